"""How much of a sound gets through: plane limit, ceilings, bypasses, what stands in the duct."""

from __future__ import annotations

import numpy as np
import pytest

from small import FAN, ROOMS, between, transfer, written
from sordino.assess.carriage import Carriage, carriage
from sordino.assess.routes import routes
from sordino.assess.stations import Stations
from sordino.physics.air.properties import STANDARD
from sordino.plan.statement import Plan

SILENCER = (
    '{{ is = "silencer", length = "1 m", loss = [{0}, {0}, {0}, {0}, {0}, {0}, {0}, {0}], '
    'drop = "9 Pa", at = "60 L/s" }}'
)
BOX = """
[box.{}]
family = "labyrinth"
length = "4 m"
width = "0.4 m"
height = "1.2 m"
passes = 4
lining = "75 mm"
"""


def boxed(*names: str) -> Plan:
    """A fan that blows through long boxes into a room."""
    parts = ", ".join(f'{{ is = "lined box", box = "{name}" }}' for name in names)
    way_on = f'[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\nparts = [{parts}]\n'
    return written(ROOMS + FAN + way_on + "".join(BOX.format(name) for name in names))


def way(plan: Plan, start: str = "fan", end: str = "there") -> Carriage:
    """The carriage by the run `way`."""
    route = next(r for r in routes(plan) if (r.start.place, r.end.place, r.name()) == (start, end, "way"))
    return carriage(Stations(plan, STANDARD), route)


def test_plane_waves_hold_to_nine_tenths_of_the_lowest_cut_on() -> None:
    """1.841 c / (pi d) of the widest part: 250 mm, 804.6 Hz, times 0.9."""
    plan = between('{ is = "transition", to = "250 mm" }, { is = "metal duct", length = "1 m" }')
    assert way(plan).plane_up_to == pytest.approx(0.9 * 804.6, rel=1e-3)


def test_above_it_losses_add_up_in_decibels() -> None:
    """Two parts of 5 dB and the flush end of 160 mm at 4 and 8 kHz: 10 dB and what the end reflects, near nothing."""
    parts = f"{SILENCER.format(5)}, {SILENCER.format(5)}"
    carried = way(between(parts))
    np.testing.assert_allclose(carried.total[7:], -10.0, atol=0.08)
    np.testing.assert_allclose(carried.drops[:, 7:], 5.0, atol=1e-9)


def test_the_end_reflects_once() -> None:
    """Below cut-on inside the cascade, above as a loss of its own: bare 160 mm flush, 10 lg[1 + (0.7 c/(pi f D))^2].

    At 63.1 Hz the ratio is 7.575, squared 57.4; ln[(2 + 57.4)/(0.5 + 57.4)]/(2 ln 2) = 0.01846 in the octave, -17.3 dB.
    """
    carried = way(between('{ is = "damper" }'))
    assert carried.total[1] == pytest.approx(-17.3, abs=0.1)
    assert carried.ending[1] == pytest.approx(0.0, abs=1e-9)
    assert carried.ending[5] > 0.0


def test_a_free_end_reflects_more_than_a_flush_one() -> None:
    """3.1 dB at low frequency, 20 lg(1.0/0.7) (ASHRAE 2011)."""
    flush, free = (
        way(between(f'{{ is = "damper" }}, {{ is = "open end", flush = {word} }}')).total for word in ("true", "false")
    )
    assert flush[1] - free[1] == pytest.approx(3.1, abs=0.1)


def test_a_box_passes_at_least_what_goes_round_it() -> None:
    """A box whose passage would lose 90 dB is credited with its ceiling and no more, in every band above cut-on."""
    carried = way(boxed("b"))
    (station,) = carried.stations
    assert station.ceiling is not None
    assert np.all(station.loss[5:8] > station.ceiling[5:8] + 20.0)
    np.testing.assert_allclose(carried.drops[0][6:8], station.ceiling[6:8], atol=0.1)
    assert np.all(carried.spread["default ceiling"][6:8] > 4.5)
    assert np.all(carried.spread["lined box estimate"][6:8] < 0.2)


def test_a_ceiling_far_above_widens_nothing() -> None:
    """A short box well under its ceiling is as sure as its estimate, whatever goes round it."""
    short = (
        BOX.format("b").replace('"4 m"', '"0.4 m"').replace('"1.2 m"', '"0.3 m"').replace("passes = 4", "passes = 1")
    )
    parts = '{ is = "lined box", box = "b" }'
    way_on = f'[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\nparts = [{parts}]\n'
    spread = way(written(ROOMS + FAN + way_on + short)).spread
    assert np.all(spread["default ceiling"][6:] < 0.1)
    assert np.all(spread["lined box estimate"][6:] > 0.5)


def test_two_ceilings_in_a_row_err_together() -> None:
    """One judgement behind both, so their half-widths add."""
    assert np.all(way(boxed("b", "c")).spread["default ceiling"][6:8] > 9.0)


def test_what_stands_in_a_duct_is_more_than_what_passes() -> None:
    """Before a matched fan the waves both ways carry 1 + |R|^2 of it; bare 6 m duct, 0.03 dB/ft and back at 125 Hz.

    |R|^2 = 1 - 0.0691 = 0.931 of the octave, less 1.18 dB there and back, 0.709: 10 lg 1.709 = 2.33 dB.
    """
    carried = way(between('{ is = "metal duct", length = "6 m" }'))
    assert carried.inside[0][2] == pytest.approx(2.33, abs=0.05)
    assert carried.arriving[0][2] < -5.0
    np.testing.assert_allclose(carried.inside[0][6:], carried.arriving[0][6:], atol=1e-9)


def test_sound_enters_an_opening_by_its_capture_area() -> None:
    """160 mm: S/4 above cut-on, 10 lg 0.00503 = -23.0 dB re Lp at 8 kHz; at 63 Hz, into a matched duct, 2.04 S.

    Flush, 1 - |R|^2 tends to (pi f D / 0.7 c)^2, which times lambda^2 / 4 pi is pi D^2 / (4 x 0.49) = S / 0.49.
    """
    plan = transfer('{ is = "metal duct", length = "1 m", lining = "50 mm" }' + ", " + SILENCER.format(60))
    carried = way(plan, "there", "here")
    assert carried.entering[8] == pytest.approx(-22.98, abs=0.05)
    assert carried.entering[1] == pytest.approx(10 * np.log10(2.04 * 0.0201), abs=0.3)


def test_bands_without_data_stay_unknown() -> None:
    """31.5 Hz through a handbook duct is not assessed; through a bend it is."""
    assert np.isnan(way(between('{ is = "metal duct", length = "1 m" }')).total[0])
    assert np.isfinite(way(between('{ is = "bend" }')).total[0])


def test_an_unknown_fan_impedance_widens_the_low_bands() -> None:
    """Taken as matched, it may be rigid or open: wide where the duct reflects, nothing above cut-on; 10 dB at most."""
    width = way(between('{ is = "metal duct", length = "2 m" }')).spread["how fan meets its duct"]
    assert np.all(width[1:4] > 3.0)
    assert np.all(width <= 10.0)
    np.testing.assert_allclose(width[6:], 0.0, atol=1e-9)


def test_like_parts_err_together() -> None:
    """Two lined ducts have twice the half-width of one, a lined duct and a bend have one each."""
    duct = '{ is = "metal duct", length = "1 m", lining = "25 mm" }'
    one, two = way(between(duct)).spread, way(between(f"{duct}, {duct}")).spread
    np.testing.assert_allclose(two["lined round duct"], 2.0 * one["lined round duct"])
    assert "bend" in way(between(f'{duct}, {{ is = "bend" }}')).spread


def test_nothing_is_surer_than_its_loss() -> None:
    """A part that takes 0.2 dB cannot be off by 3: half the loss and half a decibel at the most."""
    width = way(between('{ is = "metal duct", length = "0.5 m", lining = "25 mm" }')).spread["lined round duct"]
    assert np.all(width[1:3] < 1.3)
