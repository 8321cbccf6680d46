"""Surfaces that sweat: boxes and ducts in hot, humid and cold attics, worked by hand and from handbook films."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.assess.mould import MOULD
from sordino.physics.climate import layers, moist
from sordino.physics.climate.layers import Sheet, interfaces
from sordino.physics.climate.surfaces import film

WORKED = "one-dimensional resistance, worked by hand"
R = 0.3048**2 * (5.0 / 9.0) / (1055.05585262 / 3600.0)


def outside(resistance: float, supply: float, attic: float, transfer: float) -> float:
    """Temperature of the outer surface, the film inside left out."""
    found = interfaces(
        [Sheet(name="wall", resistance=resistance, sd=1.0)], (supply, 1e3), (attic, 2e3), 0.0, 1 / transfer
    )
    return found.temperatures[-1]


@pytest.mark.parametrize(
    ("r", "temperatures"), [(4.2, (32.2, 30.3, 28.7)), (6.0, (33.0, 31.5, 30.2)), (8.0, (33.4, 32.3, 31.2))]
)
def test_jackets_on_a_hot_day(check: Check, r: float, temperatures: tuple[float, ...]) -> None:
    """13 C inside, 35 C outside; plain film, dull foil, bright foil."""
    got = [outside(r * R, 13.0, 35.0, transfer) for transfer in (9.3, 5.0, 3.4)]
    check(f"R-{r:g} jacket in an attic of 35 C, C", temperatures, got, source=WORKED, mark="derived", within=0.15)


@pytest.mark.parametrize(
    ("r", "temperatures"), [(4.2, (27.8, 26.4, 25.2)), (6.0, (28.4, 27.3, 26.3)), (8.0, (28.8, 27.9, 27.1))]
)
def test_jackets_on_a_humid_night(check: Check, r: float, temperatures: tuple[float, ...]) -> None:
    """13 C inside, 30 C and 80 % outside: shiny jackets run colder."""
    got = [outside(r * R, 13.0, 30.0, transfer) for transfer in (9.3, 5.0, 3.4)]
    check(f"R-{r:g} jacket in an attic of 30 C, C", temperatures, got, source=WORKED, mark="derived", within=0.15)


@pytest.mark.parametrize(
    ("name", "made", "want"),
    [
        ("18 mm plywood alone", [(0.138, 0)], 22.6),
        ("with 25 mm lining", [(0.025 / 0.036, 0), (0.138, 0)], 28.1),
        ("with 50 mm lining", [(0.05 / 0.036, 0), (0.138, 0)], 28.9),
        ("two 18 mm MDF with 50 mm", [(0.05 / 0.036, 0), (0.225, 0)], 29.0),
    ],
)
def test_box_shells(check: Check, name: str, made: list[tuple[float, float]], want: float) -> None:
    """13 C inside, 30 C outside, h 9.3."""
    walls = [Sheet(name="", resistance=r, sd=1.0) for r, _ in made]
    got = interfaces(walls, (13.0, 1e3), (30.0, 3e3), 0.0, 1 / 9.3).temperatures[-1]
    check(f"box shell at 30 C outside, {name}, C", want, got, source=WORKED, mark="derived", within=0.1)


def test_the_boards_on_record_do_the_same(check: Check) -> None:
    """The same box from named layers: 18 mm plywood of R 0.14 m2K/W for 12.7 mm scaled, board of fibre."""
    made = [layers.fibre(0.05, 160.0), layers.board("plywood", 0.018)]
    got = interfaces(made, (13.0, 1e3), (30.0, 3e3), 0.0, 1 / 9.3).temperatures[-1]
    check("box of named layers at 30 C outside, C", 28.9, got, source=WORKED, mark="derived", within=0.15)
    sheet = layers.board("plywood", 0.019).resistance
    check("19 mm plywood, m2K/W", 0.19, sheet, source="ASHRAE table", mark="second-hand", relative=0.25)
    gypsum = layers.board("gypsum board", 0.0127).resistance
    source = "EN 12524, 12.7 mm at 0.25 W/mK"
    check("12.7 mm gypsum board, m2K/W", 0.0508, gypsum, source=source, mark="second-hand", relative=0.01)


@pytest.mark.parametrize(
    ("attic", "extra", "want"),
    [(-10.0, 0.0, -5.7), (-10.0, 1.5, 6.6), (-10.0, 3.0, 11.2), (0.0, 0.0, 2.9), (0.0, 1.5, 11.3), (0.0, 3.0, 14.3)],
)
def test_boxes_in_a_cold_attic(check: Check, attic: float, extra: float, want: float) -> None:
    """Air off, room air of 21 C in the box: the face between 50 mm lining and 18 mm plywood, wrapped outside."""
    made = [layers.fibre(0.05, 160.0), layers.board("plywood", 0.018), Sheet(name="wrap", resistance=extra, sd=0.1)]
    got = interfaces(made, (21.0, 990.0), (attic, 200.0), 0.13, 0.11).temperatures[1]
    name = f"lining on plywood, attic {attic:g} C, wrap RSI {extra:g}, C"
    check(name, want, got, source=WORKED, mark="derived", within=0.1)


def test_a_round_jacket_is_no_colder_than_a_flat_one(check: Check) -> None:
    """152 mm core, 44.5 mm of 0.0418 W/mK, h 5: the layers taken as flat, as a jacket is rated, lie just under."""
    got = outside(0.0445 / 0.0418, 13.0, 30.0, 5.0)
    check("jacket of a round duct, C", 27.78, got, source="cylindrical resistance, by hand", mark="derived", within=0.5)
    assert got < 27.78


@pytest.mark.parametrize(("temperature", "humidity", "want"), [(24.0, 0.5, 16.4), (26.7, 0.7, 24.5)])
def test_where_mould_begins(check: Check, temperature: float, humidity: float, want: float) -> None:
    """Surface on which air reaches 80 %."""
    got = moist.dew_point(humidity * moist.saturation_pressure(temperature) / MOULD)
    name = f"surface at 80 %, air {temperature:g} C and {100 * humidity:.0f} %, C"
    source = "ASHRAE 160-2009 criterion, worked"
    check(name, want, got, source=source, mark="derived", within=0.3)


@pytest.mark.parametrize(("direction", "r"), [("up", 0.61), ("horizontal", 0.68), ("down", 0.92)])
def test_still_films(check: Check, direction: str, r: float) -> None:
    """Films in the inch system, as an energy code quotes the handbook."""
    got = 1.0 / film("still air", direction) / R
    source = "Washington energy code, quoting ASHRAE"
    check(f"R of still air, heat {direction}, h ft2 F/BTU", r, got, source=source, mark="read", relative=0.01)


def test_wind_film(check: Check) -> None:
    """R-0.17 outdoors in winter is 34 W/m2K; ours is the 7.5 mph film of summer, R-0.25, nearer a lee corner."""
    got = 1.0 / film("wind", "horizontal") / R
    check("R of summer wind, h ft2 F/BTU", 0.25, got, source="ASHRAE Fundamentals ch. 26", mark="memory", relative=0.02)


def test_flexible_duct_as_sold(check: Check) -> None:
    """R-4.2, R-6 and R-8 in SI."""
    got = [r * R for r in (4.2, 6.0, 8.0)]
    check("R-4.2, R-6, R-8, m2K/W", [0.74, 1.06, 1.41], got, source="unit factors", mark="derived", within=0.005)
