"""All frequencies at once: the reduced basis, its estimate, the grid's error, and the field it gives."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sordino.physics.wave.field import at_points, face_spectra, faces, mean_square, middle_slice
from sordino.physics.wave.operator import Filling, Film, operator
from sordino.physics.wave.porous import Fibre
from sordino.physics.wave.prism import Cut, Divider, Port, Prism, lining
from sordino.physics.wave.reduced import spectrum
from sordino.physics.wave.refine import checked_spectrum
from sordino.physics.wave.solve import fields, sweep
from sordino.physics.wave.twoport import transmission_loss
from wave_cases import BATT, baffle_box, loss, serpentine, through_duct

BAND = np.geomspace(44.2, 640.0, 61)


@pytest.mark.parametrize(
    ("film", "filling"),
    [
        (False, BATT),
        (False, Filling(fibres=(Fibre(resistivity=5e3, limp_density=12.0),), plates=(12.0,))),
        (True, Filling(fibres=(Fibre(resistivity=9e3),), film=Film(mass=0.12, resistance=20.0))),
    ],
)
def test_the_basis_agrees_with_solving_in_full(film: bool, filling: Filling) -> None:
    """Below 60 dB within 0.1 dB of the direct sweep, and the estimate says so."""
    of = operator(serpentine(film), 0.06)
    quick, full = spectrum(of, filling, BAND), transmission_loss(sweep(of, filling, BAND))
    error, loud = np.abs(transmission_loss(quick.two_port) - full), full < 60
    assert loud.any()
    assert error[loud].max() < 0.1
    assert quick.converged[loud].all()
    assert error[quick.converged].max() < 0.1
    assert len(quick.solved) <= 8


@settings(max_examples=6, deadline=None)
@given(st.floats(2e3, 3e4), st.sampled_from([np.inf, 6.0]), st.booleans())
def test_the_estimate_holds_for_any_filling(resistivity: float, mass: float, divided: bool) -> None:
    """Wherever the estimate is within its tolerance of 0.05 dB, the true error is within 0.1 dB."""
    of = operator(baffle_box(0.05, lined=True, divided=divided), 0.05)
    filling = Filling(fibres=(Fibre(resistivity=resistivity),), plates=(mass,) if divided else ())
    quick = spectrum(of, filling, np.geomspace(40, 900, 80))
    full = transmission_loss(sweep(of, filling, quick.two_port.frequency))
    error = np.abs(transmission_loss(quick.two_port) - full)
    assert quick.converged.mean() > 0.9
    assert error[quick.converged].max() < 2 * quick.tolerance


def test_lossless_resonances_are_found() -> None:
    """An empty box with sharp nulls and peaks still comes out right, and reciprocal."""
    of = operator(baffle_box(0.05, divided=True), 0.05)
    at = np.geomspace(40, 900, 120)
    quick, full = spectrum(of, Filling(), at), sweep(of, Filling(), at)
    assert np.abs(transmission_loss(quick.two_port) - transmission_loss(full)).max() < 0.1
    s = quick.two_port.scattering
    assert np.abs(s[:, 0, 1] - s[:, 1, 0]).max() < 1e-8
    assert np.abs((np.abs(s) ** 2).sum(axis=1) - 1).max() < 1e-6


def test_what_is_not_met_is_masked(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too few solutions allowed, the estimate says where the answer cannot be trusted."""
    monkeypatch.setattr("sordino.physics.wave.reduced.MOST", 4)
    of = operator(baffle_box(0.05, divided=True), 0.05)
    at = np.geomspace(40, 1100, 200)
    quick = spectrum(of, Filling(), at)
    error = np.abs(transmission_loss(quick.two_port) - transmission_loss(sweep(of, Filling(), at)))
    assert error.max() > 1
    assert not quick.converged.all()
    assert not quick.converged[np.argmax(error)]


def test_the_grid_states_its_error() -> None:
    """The stated error covers the distance to a grid twice as fine."""
    at = np.array([63.0, 100.0, 160.0, 250.0, 400.0])
    box = baffle_box(0.02, lined=True)
    filling = Filling(fibres=(Fibre(resistivity=1e4),))
    stated = checked_spectrum(box, filling, at, 0.04)
    true = np.abs(transmission_loss(stated.spectrum.two_port) - loss(box, 0.0125, at, filling))
    assert (true <= stated.error + 0.02).all()
    assert stated.error.max() < 3


def test_a_plane_wave_loads_every_face_alike() -> None:
    """In an empty duct a wave of 1 Pa is 1 Pa everywhere, half meshed or whole."""
    box = through_duct(0.6, 0.2, 0.15)
    for duct in (box, replace(box, regions=(lining(box, "front", 1e-3, 0),))):
        of = operator(duct, 0.02)
        field = fields(of, Filling(), 150.0)
        for face in faces(of).values():
            assert np.allclose(mean_square(of, face, field), 1.0, atol=2e-3)
        assert np.allclose(np.abs(middle_slice(of, field, 30).pressure), 1.0, atol=2e-3)


def test_faces_have_their_areas() -> None:
    """Every face of a box under two slopes, with the openings of its ports still in them."""
    box = Prism(
        length=1.0,
        width=0.4,
        height=0.7,
        left=Cut(run=0.3, drop=0.4),
        right=Cut(run=0.4, drop=0.3),
        ports=(
            Port(face="floor", centre=(0.3, 0.15, 0.0), diameter=0.15),
            Port(face="right", centre=(1.0, 0.2, 0.2), diameter=0.15),
        ),
    )
    areas = {name: face.area for name, face in faces(operator(box, 0.06)).items()}
    end = 0.7 - 0.3 * 0.4 / 2 - 0.4 * 0.3 / 2
    expected = {"left": 0.12, "right": 0.16, "floor": 0.4, "ceiling": 0.12, "left slope": 0.2, "right slope": 0.2}
    assert areas == pytest.approx({**expected, "front": end, "back": end})


def test_the_field_drops_across_a_plate() -> None:
    """A heavy plate leaves the far side quiet; the slice shows it, and nothing inside the plate or beyond the slope."""
    box = through_duct(0.6, 0.3, 0.2, dividers=(Divider(x0=0.3, z0=0.0, x1=0.33, z1=0.3),))
    of = operator(box, 0.03)
    field = fields(of, Filling(plates=(20.0,)), 250.0)
    before, after = np.abs(at_points(of, field, np.array([[0.1, 0.1, 0.15], [0.5, 0.1, 0.15]])))[0]
    assert before / after > 20
    picture = middle_slice(of, field, 40)
    assert picture.pressure.shape == (2, 20, 40)
    assert np.isnan(picture.pressure[:, :, np.abs(picture.x - 0.315) < 0.014]).all()
    assert np.isfinite(picture.pressure[:, :, picture.x < 0.29]).all()


def test_basis_fields_are_full_fields() -> None:
    """Mean-square pressures read from the basis are those of the field solved in full."""
    of = operator(serpentine(), 0.075)
    quick = spectrum(of, BATT, BAND)
    row = 20
    rebuilt = quick.basis @ quick.coefficients[row]
    full = fields(of, BATT, float(BAND[row]))
    spectra = face_spectra(of, quick)
    for name, face in faces(of).items():
        assert np.allclose(mean_square(of, face, rebuilt), mean_square(of, face, full), rtol=0.02)
        assert np.allclose(spectra[name][row], mean_square(of, face, rebuilt), rtol=1e-9)


def test_thicker_lining_takes_more_at_low_frequencies() -> None:
    """Doubling a lining on one side of a flat duct raises the loss where the fibre is thin against the wave."""
    at = np.array([63.0, 125.0, 250.0])
    thin, thick = (lined(depth) for depth in (0.05, 0.10))
    filling = Filling(fibres=(Fibre(resistivity=1e4),))
    assert (loss(thick, 0.025, at, filling) > loss(thin, 0.025, at, filling)).all()


def lined(depth: float) -> Prism:
    """A duct of 0.15 m with a lining of some depth above its bore."""
    bare = through_duct(1.0, 0.15 + depth, 0.025)
    ports = tuple(replace(port, sides=(0.15, 0.025), centre=(port.centre[0], 0.0125, 0.075)) for port in bare.ports)
    return replace(bare, ports=(ports[0], ports[1]), regions=(lining(bare, "ceiling", depth, 1),))
