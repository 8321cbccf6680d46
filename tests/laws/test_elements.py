"""Laws that every part of a run obeys, whatever it is: no free pressure, no free sound, more air more of both."""

from __future__ import annotations

import tomllib
from typing import Any, get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from elements.made import with_box
from sordino.assess.boxes import with_fields
from sordino.bands import Array
from sordino.elements.box import Family
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.lined_box import LinedBox
from sordino.elements.parts import Part
from sordino.physics.air.properties import STANDARD, Air
from sordino.physics.sound.fourpole import characteristic_impedance, reversed_pole, transmission, transmission_loss

CLASSES: dict[str, type[Element]] = {
    str(get_args(each.model_fields["kind"].annotation)[0]): each for each in get_args(get_args(Part)[0])
}
"""Every class that a run may hold, by what it is called in a file."""

SAMPLES = """\
metal_duct = [{ length = "2 m" }, { length = "3 m", lining = "25 mm" }, { length = "1 m", size = "300 x 150 mm" }]
flexible_duct = [{ length = "2 m" }, { length = "0.7 m", pull = "slack" }]
bend = [{ shape = "smooth" }, { shape = "mitred", lined = true }, { shape = "vaned", size = "400 x 200 mm" },
  { shape = "flexible" }, { shape = "pleated", angle = "45 deg" }, { shape = "gored", radius_ratio = 2.0 }]
transition = [{ to = "250 mm" }, { to = "100 mm", length = "0.3 m" }, { to = "300 x 200 mm", length = "1.5 m" }]
boot = [{ to = "300 x 100 mm" }, { to = "200 x 150 mm", turn = false }]
damper = [{ angle = "0 deg" }, { angle = "35 deg", size = "300 x 150 mm" }]
filter = [{ depth = "50 mm", merv = 11 }, { drop = "20 Pa", at = "1.5 m/s", soiling = "60 %" }]
grille = [{ face = "bar" }, { face = "egg-crate", opening = "300 x 200 mm" }, { face = "perforated" },
  { face = "louvre" }, { loss_coefficient = 2.5 }]
open_end = [{ flush = true }, { flush = false }]
silencer = [{ length = "1 m", loss = [3, 6, 9, 20, 25, 20, 14, 9], drop = "9 Pa", at = "60 L/s", \
noise = [40, 38, 36, 34, 32, 30, 26, 20] }]
"""
BOXES: tuple[dict[str, Any], ...] = (
    {"family": "labyrinth", "length": "1.2 m", "width": "0.5 m", "height": "0.6 m", "passes": 2},
    {"family": "straight", "length": "1 m", "width": "0.35 m", "height": "0.35 m", "passes": 1},
    {"family": "serpentine", "length": "1.2 m", "width": "0.4 m", "height": "0.7 m", "passes": 2},
    {"family": "plenum", "length": "1 m", "width": "0.6 m", "height": "0.5 m", "passes": 1},
    {"family": "shallow", "length": "0.9 m", "width": "0.6 m", "height": "0.25 m", "lining": "25 mm"},
)
_PART: TypeAdapter[Element] = TypeAdapter(Part)


def samples() -> dict[str, Element | dict[str, Any]]:
    """Parts of every kind with fields off their defaults, sized as a run would size them; boxes by their statement."""
    found: dict[str, Element | dict[str, Any]] = {}
    for word, rows in tomllib.loads(SAMPLES).items():
        for row in rows:
            part = _PART.validate_python({"is": word.replace("_", " "), "size": "160 mm", **row})
            found[f"{part.label()} {len(found)}"] = part
    for box in BOXES:
        found |= {f"{box['family']} estimated": box, f"{box['family']} solved": box}
    return found


PARTS = samples()


@pytest.fixture(scope="module", params=PARTS)
def part(request: pytest.FixtureRequest) -> Element:
    """Each sample; a box as the plan builds it, once as handbooks estimate it and once with its sound field."""
    name, sample = str(request.param), PARTS[request.param]
    if isinstance(sample, Element):
        return sample
    plan = with_box("160 mm", **sample)
    built = (with_fields(plan, STANDARD) if name.endswith(" solved") else plan).run["way"].parts[0]
    assert isinstance(built, BuiltBox)
    assert (built.field is not None) == name.endswith(" solved")
    return built


FLOWS = st.floats(1e-4, 0.5)
ONE = settings(max_examples=25, deadline=None)


def test_every_class_is_sampled() -> None:
    """A new element is held to these laws as soon as it may stand in a run."""
    plain = {type(sample) for sample in PARTS.values() if isinstance(sample, Element)}
    assert plain | {LinedBox} == set(CLASSES.values())
    assert {str(box["family"]) for box in BOXES} == set(get_args(Family)) - {"custom"}


@ONE
@given(flow=FLOWS)
def test_pressure_is_lost_both_ways(part: Element, flow: float) -> None:
    """Never gained, and its size does not depend on which way the air goes."""
    loss = part.pressure_loss(flow, STANDARD)
    assert loss >= 0.0
    assert part.pressure_loss(-flow, STANDARD) == pytest.approx(loss)


@ONE
@given(flow=FLOWS, more=st.floats(1.01, 3.0))
def test_more_air_costs_more(part: Element, flow: float, more: float) -> None:
    """Pressure rises with flow, about squared; faster where a rough duct leaves laminar flow, never falling."""
    first, second = part.pressure_loss(flow, STANDARD), part.pressure_loss(flow * more, STANDARD)
    if first == 0.0:
        assert second == 0.0
        return
    assert 0.6 * np.log(more) <= np.log(second / first) <= 3.2 * np.log(more)


@ONE
@given(density=st.floats(0.7, 1.3))
def test_thin_air_costs_less(part: Element, density: float) -> None:
    """Where the flow is turbulent the loss goes by density, up to the Reynolds number; makers' figures keep theirs."""
    air = Air(density=density, viscosity=STANDARD.viscosity * density / STANDARD.density)
    here, there = part.pressure_loss(0.2, STANDARD), part.pressure_loss(0.2, air)
    expected = here if type(part).__name__ in ("Filter", "Silencer") else here * density / STANDARD.density
    assert there == pytest.approx(expected, rel=1e-9)


def test_attenuation_is_never_a_gain(part: Element) -> None:
    """In every band that has data; only 31.5 Hz may have none."""
    loss = part.attenuation(STANDARD)
    assert loss.shape == (9,)
    assert np.isfinite(loss[1:]).all()
    assert np.all(loss[np.isfinite(loss)] >= 0.0)


def test_the_four_pole_is_reciprocal(part: Element) -> None:
    """Determinant one at every line, either way round, and reversing twice changes nothing."""
    pole = part.four_pole(STANDARD)
    assert pole.shape == (81, 2, 2)
    back = reversed_pole(pole)
    for each in (pole, back):
        np.testing.assert_allclose(determinant(each) / scale(each), 1.0 / scale(each), atol=1e-12)
    np.testing.assert_array_equal(reversed_pole(back), pole)


def determinant(pole: Array) -> Array:
    """Of each two by two matrix."""
    return pole[..., 0, 0] * pole[..., 1, 1] - pole[..., 0, 1] * pole[..., 1, 0]


def scale(pole: Array) -> Array:
    """Size of the products that a determinant is the difference of."""
    return np.abs(pole[..., 0, 0] * pole[..., 1, 1]) + np.abs(pole[..., 0, 1] * pole[..., 1, 0])


@ONE
@given(resistance=st.floats(0.02, 50.0), reactance=st.floats(-20.0, 20.0))
def test_the_four_pole_is_passive(part: Element, resistance: float, reactance: float) -> None:
    """Whatever it ends in, no more power leaves it than enters it, either way round."""
    z = characteristic_impedance(part.outlet.area, STANDARD.density, STANDARD.sound_speed)
    end = np.full(81, z * (resistance + 1j * reactance))
    for pole in (part.four_pole(STANDARD), reversed_pole(part.four_pole(STANDARD))):
        power = transmission([pole], end, z).power
        assert np.all(power[1] <= power[0] * (1.0 + 1e-9))
        assert np.all(power[0] <= 1.0 + 1e-9)


def test_transmission_loss_is_the_same_both_ways(part: Element) -> None:
    """Between the ducts it was made for."""
    z_in, z_out = (
        characteristic_impedance(size.area, STANDARD.density, STANDARD.sound_speed)
        for size in (part.section, part.outlet)
    )
    pole = part.four_pole(STANDARD)
    there, back = transmission_loss(pole, z_in, z_out), transmission_loss(reversed_pole(pole), z_out, z_in)
    np.testing.assert_allclose(there, back, atol=1e-9)
    assert np.all(there >= -1e-9)


@ONE
@given(flow=st.floats(0.005, 0.3), more=st.floats(1.05, 3.0))
def test_more_air_is_louder(part: Element, flow: float, more: float) -> None:
    """Own noise rises overall, by 40 to 100 lg of flow; still air is silent to any ear."""
    if part.own_noise(flow, STANDARD) is None:
        assert part.own_noise(flow * more, STANDARD) is None
        return
    rise = overall(part, flow * more) - overall(part, flow)
    assert 30.0 * np.log10(more) <= rise <= 100.0 * np.log10(more)
    assert overall(part, 0.0) < 0.0


def overall(part: Element, flow: float) -> float:
    """Level of the own noise of all bands together, dB."""
    levels = part.own_noise(flow, STANDARD)
    assert levels is not None
    return float(10.0 * np.log10(np.nansum(10.0 ** (levels / 10.0))))


def test_flow_noise_knows_no_direction(part: Element) -> None:
    """The same level for air going either way."""
    there, back = part.own_noise(0.05, STANDARD), part.own_noise(-0.05, STANDARD)
    assert (there is None) == (back is None)
    if there is not None and back is not None:
        np.testing.assert_array_equal(there, back)


def test_speeds_are_flow_over_area(part: Element) -> None:
    """Every named speed is in proportion to flow, and none is below that of the largest section."""
    once, twice = part.velocities(0.03), part.velocities(-0.06)
    assert once.keys() == twice.keys()
    for place, speed in once.items():
        assert twice[place] == pytest.approx(2.0 * speed)
        assert speed > 0.0


def test_walls_and_ceilings(part: Element) -> None:
    """A ceiling is a loss in every band; a wall lets out no more than it gets, and its areas are real."""
    ceiling, wall = part.ceiling(), part.wall()
    if ceiling is not None:
        assert np.all(ceiling > 0.0)
    if wall is not None:
        assert wall.outer_area > 0.0
        assert wall.inner_area > 0.0
        assert np.isfinite(wall.breakout[1:]).all()
        assert np.isfinite(wall.breakin[1:]).all()


def test_labels(part: Element) -> None:
    """Each part is called by what it is in the file, and by its name if it has one; a box by the box."""
    named = part.model_copy(update={"name": "third"})
    kind = str(getattr(part, "kind", ""))
    assert isinstance(part, CLASSES[kind])
    assert part.label() == (f"box {part.box}" if isinstance(part, LinedBox) else kind)
    assert named.label() == (part.label() if isinstance(part, LinedBox) else f"{kind} third")
