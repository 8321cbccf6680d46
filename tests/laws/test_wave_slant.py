"""What a duct at a slant must obey: the square duct's limit, passive, reciprocal, blind to mirrors and grids."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slanted import leaning, oblique, round_through, under_a_roof
from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.field import faces
from sordino.physics.wave.grid import grid
from sordino.physics.wave.operator import Filling, Film, operator
from sordino.physics.wave.porous import Fibre
from sordino.physics.wave.prism import Cut, Port, Prism, lining, whole
from sordino.physics.wave.reduced import spectrum
from sordino.physics.wave.stub import opening
from sordino.physics.wave.twoport import absorbed, four_pole, transmission_loss
from wave_cases import BATT, loss, serpentine, solved

BAND = np.array([63.0, 125.0, 250.0, 400.0, 500.0])
SIZE = 0.06
HAIR = 3e-4
"""A slant that nobody could tell from square, and that leaves the lines of the grid where they were, rad."""
ROOF = Prism(
    length=0.8,
    width=0.4,
    height=0.5,
    right=Cut(run=0.35, drop=0.25),
    ports=(
        Port(face="left", centre=(0.0, 0.2, 0.25), diameter=0.2),
        Port(face="right slope", centre=(0.625, 0.2, 0.375), diameter=0.16),
    ),
)
ASIDE = replace(
    ROOF,
    ports=(
        Port(face="floor", centre=(0.3, 0.17, 0.0), sides=(0.2, 0.15)),
        Port(face="back", centre=(0.5, 0.4, 0.25), diameter=0.14),
    ),
)
ABOVE = replace(
    ROOF,
    left=Cut(run=0.3, drop=0.3),
    right=Cut(),
    ports=(
        Port(face="left slope", centre=(0.15, 0.19, 0.35), sides=(0.15, 0.12)),
        Port(face="ceiling", centre=(0.6, 0.22, 0.5), diameter=0.15),
    ),
)


@pytest.mark.parametrize("box", [ROOF, ASIDE, ABOVE, under_a_roof(0.0, 0.0), round_through(0.0)])
@pytest.mark.parametrize("size", [0.06, 0.05])
def test_a_hair_off_square_is_square(box: Prism, size: float) -> None:
    """The stub shrinks to nothing and its port to the square one, within 0.1 dB."""
    assert np.abs(loss(leaning(box, HAIR, -HAIR), size, BAND) - loss(box, size, BAND)).max() < 0.1


@pytest.mark.parametrize("film", [False, True])
def test_a_hair_off_square_a_flexible_duct_is_square(film: bool) -> None:
    """The duct goes on into the stub, its film ends at the face."""
    filling = Filling(fibres=BATT.fibres, film=Film(mass=0.2) if film else None)
    box = serpentine(film)
    square = loss(box, 0.05, BAND, filling)
    assert np.abs(loss(leaning(box, -HAIR, HAIR), 0.05, BAND, filling) - square).max() < 0.1
    assert np.abs(loss(leaning(box, -0.3, 0.3), 0.05, BAND[:2], filling) - square[:2]).max() < 0.3


def test_ducts_side_by_side_keep_apart() -> None:
    """Two ducts of 160 mm in dense fibre that lean alike, 52 mm between their holes, on cells as wide and finer:
    what goes from one to the other goes through the fibre, about a decibel less than when they are square."""
    bare = Prism(
        length=0.45,
        width=0.45,
        height=0.8,
        ports=(
            Port(face="left", centre=(0.0, 0.225, 0.3), diameter=0.16),
            Port(face="left", centre=(0.0, 0.225, 0.52), diameter=0.16),
        ),
    )
    box, dense = replace(bare, regions=(whole(bare, 1),)), Filling(fibres=(Fibre(resistivity=2e4),))
    square = loss(box, 0.05, BAND[1:3], dense)
    coarse, fine = (loss(leaning(box, 0.3, 0.3), size, BAND[1:3], dense) for size in (0.05, 0.03))
    assert np.abs(coarse - fine).max() < 1.0
    assert (square - coarse < 4.0).all()


SLANTS = st.floats(-1.0, 1.0).filter(lambda slant: abs(slant) > 0.01)


@settings(max_examples=12, deadline=None)
@given(st.sampled_from([ROOF, ASIDE, ABOVE]), SLANTS, SLANTS, st.floats(2e3, 4e4), st.sampled_from([None, 20.0]))
def test_no_slant_gains_and_both_ways_pass_alike(
    box: Prism, first: float, second: float, resistivity: float, frame: float | None
) -> None:
    box = replace(leaning(box, 0.8 * first, 0.8 * second), regions=(lining(box, "right", 0.06, 1),))
    got = solved(box, SIZE, BAND, Filling(fibres=(Fibre(resistivity=resistivity, limp_density=frame),)))
    assert (absorbed(got) > -1e-9).all()
    assert np.abs(got.scattering[:, 0, 1] - got.scattering[:, 1, 0]).max() < 1e-8
    assert np.abs(np.linalg.det(four_pole(got)) - 1).max() < 1e-6


@settings(max_examples=12, deadline=None)
@given(st.sampled_from([ROOF, ASIDE, ABOVE]), SLANTS, SLANTS)
def test_a_lossless_box_keeps_energy_at_any_slant(box: Prism, first: float, second: float) -> None:
    box = leaning(box, 0.8 * first, 0.8 * second)
    assert np.abs(absorbed(solved(box, SIZE, BAND))).max() < 1e-6


def test_mirrored_in_its_length_a_box_is_the_same() -> None:
    """Left becomes right; up stays up on an end, and a slant down a right slope is one up a left one."""
    mirrored = replace(
        ROOF,
        left=ROOF.right,
        right=Cut(),
        ports=(
            replace(ROOF.ports[0], face="right", centre=(0.8, 0.2, 0.25), slant=0.5),
            replace(ROOF.ports[1], face="left slope", centre=(0.175, 0.2, 0.375), slant=-0.4),
        ),
    )
    assert np.allclose(loss(mirrored, 0.05, BAND), loss(leaning(ROOF, 0.5, 0.4), 0.05, BAND), atol=1e-6)


def test_laid_on_its_back_a_box_is_the_same() -> None:
    """The profile's length along its height: a slant up an end becomes one along the floor."""
    box = leaning(round_through(0.0), 0.6, -0.3)
    swapped = Prism(
        length=0.45,
        width=0.4,
        height=0.5,
        ports=(
            Port(face="floor", centre=(0.2, 0.2, 0.0), diameter=0.16, slant=0.6),
            Port(face="ceiling", centre=(0.2, 0.2, 0.5), diameter=0.16, slant=-0.3),
        ),
    )
    assert np.allclose(loss(box, 0.05, BAND), loss(swapped, 0.05, BAND), atol=1e-6)


def test_seen_from_the_side_a_box_is_the_same() -> None:
    """Its width along its height: a duct that leans along the front leans along the floor."""
    box = leaning(ASIDE, 0.4, -0.5)
    box = replace(box, right=Cut(), ports=(box.ports[0], replace(box.ports[1], sides=(0.14, 0.1), diameter=None)))
    turned = Prism(
        length=0.8,
        width=0.5,
        height=0.4,
        ports=(
            Port(face="front", centre=(0.3, 0.0, 0.17), sides=(0.2, 0.15), slant=0.4),
            Port(face="ceiling", centre=(0.5, 0.25, 0.4), sides=(0.14, 0.1), slant=-0.5),
        ),
    )
    assert np.allclose(loss(box, 0.04, BAND[:3]), loss(turned, 0.04, BAND[:3]), atol=0.05)


def test_half_a_box_with_slanting_ducts_tells_the_whole() -> None:
    """A hair off the middle all of it is meshed."""
    box = leaning(ROOF, 0.5, -0.4)
    shifted = replace(box, ports=(box.ports[0], replace(box.ports[1], centre=(0.625, 0.2 + 1e-6, 0.375))))
    assert grid(box, 0.05).half
    assert not grid(shifted, 0.05).half
    assert np.allclose(loss(box, 0.05, BAND), loss(shifted, 0.05, BAND), atol=0.03)


@pytest.mark.parametrize("slant", [0.3, 0.9])
def test_finer_grids_close_in(slant: float) -> None:
    """From 60 to 40 to 20 mm the loss of round ducts at a slant settles, at the order of 1 or better."""
    box = leaning(round_through(0.0), slant, slant)
    coarse, middle, fine = (loss(box, size, BAND[:4]) for size in (0.06, 0.04, 0.02))
    assert np.abs(middle - fine).mean() < 0.7 * np.abs(coarse - fine).mean()


def test_an_oblique_cut_closes_in_at_second_order() -> None:
    """Reflection at a cut that isn't there: halving the cells takes a quarter of it."""
    far = np.array([500.0, 700.0])
    coarse, fine = (np.abs(solved(oblique(), size, far).scattering[:, 0, 0]) for size in (0.05, 0.025))
    assert (fine < 0.35 * coarse).all()


def test_faces_are_as_large_as_ever() -> None:
    """A slanting duct's cells beyond a face are none of it."""
    square, slanting = (
        {name: face.area for name, face in faces(operator(box, SIZE)).items()}
        for box in (ROOF, leaning(ROOF, 0.7, 0.6))
    )
    assert slanting == pytest.approx(square)


def test_all_frequencies_at_once_as_one_by_one() -> None:
    """The reduced basis on a box with stubs, against full solutions."""
    box = replace(leaning(ROOF, 0.5, -0.6), regions=(lining(ROOF, "floor", 0.08, 1),))
    at: Array = np.geomspace(50.0, 600.0, 40)
    fast = spectrum(operator(box, SIZE), BATT, at)
    assert fast.converged.all()
    assert np.abs(transmission_loss(fast.two_port)[::8] - loss(box, SIZE, at[::8], BATT)).max() < 0.05


def test_the_hole_is_longer_than_the_duct_is_wide() -> None:
    """At 60 degrees twice as long: 1/cos 60."""
    leans = Port(face="floor", centre=(0.3, 0.2, 0.0), diameter=0.1, slant=np.radians(60.0))
    assert opening(leans) == pytest.approx((0.2, 0.1))
    assert opening(replace(leans, diameter=None, sides=(0.3, 0.12))) == pytest.approx((0.6, 0.12))


def test_a_hole_that_leaves_its_face_is_refused() -> None:
    """A duct of 200 mm in an end of 250 mm has room when square, and not at 45 degrees: its hole is 283 mm long."""
    low = replace(ROOF, ports=(replace(ROOF.ports[0], centre=(0.0, 0.2, 0.125)), ROOF.ports[1]))
    loss(low, SIZE, BAND[:1])
    with pytest.raises(OutOfRange, match="wholly on open face"):
        operator(leaning(low, np.pi / 4, 0.0), SIZE)


def test_what_runs_along_the_face_is_refused() -> None:
    with pytest.raises(OutOfRange, match="degrees"):
        leaning(ROOF, 1.4, 0.0)
