"""What the air does: mass balance, dead ends, humps, filters, altitude, speeds, and lines of the pressure ledger."""

from __future__ import annotations

import math

import numpy as np
import pytest

from small import FAN, ROOMS, between, written
from sordino.assess.airflow import AirState, air_state, leakage_coefficient
from sordino.assess.assessment import Assessment, assess
from sordino.assess.drops import lines
from sordino.physics.air.properties import STANDARD, air_at
from sordino.plan.statement import Plan

DUCT = '{ is = "metal duct", length = "4 m" }, { is = "bend" }'
FRESH = """
[space.outside]
is = "outside"

[space.void]
is = "void"

[mover.cooler]
is = "ducted unit"
in = "void"
curve = [["0 L/s", "60 Pa"], ["100 L/s", "40 Pa"], ["160 L/s", "0 Pa"]]
sound = { rated = "40 dBA" }

[mover.fresh]
is = "inline fan"
in = "void"
curve = [["0 L/s", "90 Pa"], ["30 L/s", "60 Pa"], ["50 L/s", "0 Pa"]]
sound = { rated = "35 dBA" }

[junction.split]
is = "branch"
straight = "to-here"

[junction.join]
is = "plenum"
length = "0.6 m"
width = "0.5 m"
height = "0.4 m"

[run.trunk]
from = "cooler.supply"
to = "split"
size = "250 mm"
parts = [{ is = "metal duct", length = "2 m" }]

[run.to-here]
from = "split"
to = "here"
size = "200 mm"
parts = [{ is = "flexible duct", length = "3 m" }]

[run.to-there]
from = "split"
to = "there"
size = "160 mm"
parts = [{ is = "flexible duct", length = "1 m" }]

[run.from-here]
from = "here"
to = "join"
size = "200 mm"

[run.from-there]
from = "there"
to = "join"
size = "200 mm"

[run.return]
from = "join"
to = "cooler.return"
size = "250 mm"
parts = [{ is = "filter", depth = "50 mm", merv = 11 }]

[run.intake]
from = "outside"
to = "fresh.inlet"
size = "125 mm"

[run.fresh-in]
from = "fresh.outlet"
to = "here"
size = "125 mm"

[run.transfer]
from = "here"
to = "there"
size = "160 mm"

[run.relief]
from = "there"
to = "outside"
size = "160 mm"
"""
HUMPED = 'curve = [["0 L/s", "60 Pa"], ["25 L/s", "30 Pa"], ["45 L/s", "130 Pa"], ["80 L/s", "0 Pa"]]'
PLAIN = 'curve = [["0 L/s", "150 Pa"], ["60 L/s", "120 Pa"], ["120 L/s", "0 Pa"]]'


def state(plan: Plan, mode: str = "normal", filters: str = "clean", altitude: float = 0.0) -> AirState:
    """The air of a plan in one mode."""
    return air_state(plan, mode, filters, air_at(20.0, 0.5, altitude))


def leaked(plan: Plan, found: AirState, room: str) -> float:
    """What a room loses through its cracks, C dp^0.65, m3/s."""
    dp = found.pressures[room]
    return math.copysign(leakage_coefficient(plan, room) * abs(dp) ** 0.65, dp)


def losses_of_air(plan: Plan, found: AirState) -> dict[str, float]:
    """Air that each room and junction loses, leaks and all, m3/s: nil if mass is kept."""
    lost = dict.fromkeys([*plan.room, *plan.junction], 0.0)
    for name, run in plan.run.items():
        for node, sign in ((run.start, 1.0), (run.end, -1.0)):
            if node in lost:
                lost[node] += sign * found.flows[name]
    for room in plan.room:
        lost[room] += leaked(plan, found, room)
    return lost


def test_no_air_is_lost_anywhere() -> None:
    """Rooms with their leaks, branch and plenum, a recirculating unit and a fresh-air fan at once."""
    plan = written(ROOMS + FRESH)
    found = state(plan)
    for node, lost in losses_of_air(plan, found).items():
        assert abs(lost) < 2e-8, node
    assert found.flows["trunk"] == pytest.approx(found.flows["return"], abs=1e-9)
    assert found.flows["fresh-in"] == pytest.approx(found.flows["intake"], abs=1e-9)


def test_pressures_agree_along_every_run() -> None:
    """What a run loses line by line is the difference of pressure between its ends."""
    plan = written(ROOMS + FRESH)
    found = state(plan)
    air = air_at(20.0, 0.5, 0.0)
    for name, run in plan.run.items():
        taken = sum(line.drop for line in lines(plan, name, found.flows[name], "clean", air))
        signed = taken if found.flows[name] > 0 else -taken
        assert found.pressures[run.start] - found.pressures[run.end] == pytest.approx(signed, abs=1e-3), name


def test_a_recirculating_unit_brings_no_fresh_air() -> None:
    """Two rooms and one unit: their leaks to outdoors cancel, so what leaks into one leaks out of the other."""
    plan = written(ROOMS + FRESH)
    still = plan.model_copy(
        update={
            "mover": plan.mover,
            "mode": {"normal": plan.mode["normal"].model_copy(update={"speeds": {"fresh": 0.0}})},
        }
    )
    found = state(still)
    leaks = [leaked(plan, found, room) for room in plan.room]
    through = found.flows["relief"] - found.flows["intake"]
    assert sum(leaks) == pytest.approx(-through, abs=1e-8)
    assert found.flows["trunk"] > 0.05


def test_pressure_in_a_room_is_what_its_relief_takes() -> None:
    """60 L/s through a 160 mm duct by hand: velocity pressure 5.36 Pa; sharp entry and exit 1.5 of it."""
    plan = between("")
    entry, leave = lines(plan, "way", 0.060, "clean", STANDARD), lines(plan, "draw", 0.060, "clean", STANDARD)
    dynamic = 0.5 * 1.204 * (0.060 / (np.pi / 4 * 0.16**2)) ** 2
    assert [line.label for line in leave] == ["entry", "open end"]
    assert sum(line.drop for line in leave) == pytest.approx(0.5 * dynamic)
    assert [line.label for line in entry] == ["open end", "exit"]
    assert sum(line.drop for line in entry) == pytest.approx(dynamic)


def findings(plan: Plan, question: str) -> list[tuple[str, str, str]]:
    """Subject, standing and sentence of all findings on a question."""
    return [(f.subject, f.standing, f.sentence) for f in assess(plan).findings if f.question == question]


def test_a_supply_into_an_airtight_room_is_a_stop() -> None:
    """Nothing lets the air out of `there`, nor into `here`: the fan is dead-headed and the finding says so."""
    tight = ROOMS.replace('width = "3 m"', 'width = "3 m"\nleakage = "1 m³/h"').replace(
        'width = "3.2 m"', 'width = "3.2 m"\nleakage = "1 m³/h"'
    )
    plan = written(f'{tight}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n')
    ((subject, standing, sentence),) = findings(plan, "fan")
    assert (subject, standing) == ("fan", "stop")
    assert "dead-headed" in sentence
    assert assess(plan).missed


def test_even_a_room_that_leaks_nothing_is_answered() -> None:
    """A stated leakage of nil is a closed end, not a division by nothing: the fan stands at its shut-off pressure."""
    tight = ROOMS.replace('width = "3 m"', 'width = "3 m"\nleakage = "0 L/s"')
    plan = written(f'{tight}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n')
    found = state(plan)
    assert found.flows["draw"] < 1e-4
    assert found.streams[0].pressure == pytest.approx(150.0, abs=0.2)


def relieved(curve: str, parts: str = "") -> Plan:
    """A fan with a curve between two rooms with an open way back of its own size and `parts` in its outlet."""
    back = '\n[run.back]\nfrom = "there"\nto = "here"\nsize = "160 mm"\n'
    return written(
        f"{ROOMS}{FAN.replace(PLAIN, curve)}{back}\n"
        f'[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "100 mm"\nparts = [{parts}]\n'
    )


def test_a_humped_curve_reports_every_crossing() -> None:
    """A network that meets the hollow of the curve three times: stable, unstable, stable, and the finding says so."""
    plan = relieved(HUMPED, '{ is = "damper", angle = "32 deg" }')
    points = state(plan).streams[0].crossings
    assert [point.stable for point in points] == [True, False, True]
    assert points[0].flow < points[1].flow < points[2].flow
    ((_, standing, sentence),) = findings(plan, "fan")
    assert standing == "likely missed"
    assert "3 points" in sentence
    assert "hunt" in sentence


def test_a_humped_curve_met_once_is_no_fault() -> None:
    """An easy network crosses the falling end only."""
    plan = relieved(HUMPED)
    assert [point.stable for point in state(plan).streams[0].crossings] == [True]
    assert findings(plan, "fan")[0][1] == "note"


def test_a_falling_curve_has_no_crossings_to_list() -> None:
    """Its one operating point is the answer."""
    assert state(relieved(PLAIN)).streams[0].crossings == ()


def test_a_dirty_filter_lowers_the_flow() -> None:
    """And only where it sits."""
    plan = written(ROOMS + FRESH)
    clean, dirty = state(plan), state(plan, filters="dirty")
    assert dirty.flows["return"] < 0.98 * clean.flows["return"]
    assert dirty.flows["intake"] == pytest.approx(clean.flows["intake"], rel=0.02)


def test_altitude_takes_pressure_but_hardly_flow() -> None:
    """At 2000 m air is 0.78 as dense (standard atmosphere; memory): fan and turbulent losses shrink alike."""
    plan = relieved(PLAIN, '{ is = "damper", angle = "35 deg" }')
    low, high = state(plan), state(plan, altitude=2000.0)
    assert high.flows["way"] == pytest.approx(low.flows["way"], rel=0.01)
    assert high.streams[0].pressure / low.streams[0].pressure == pytest.approx(0.785, abs=0.01)


def test_half_speed_moves_half_the_air_against_a_quarter() -> None:
    """Fan laws, exact where every loss goes by the square: damper, entry and exit only."""
    text = '[mode.full]\n[mode.half]\nspeeds = { fan = "50 %" }\n'
    loose = ROOMS.replace('width = "3 m"', 'width = "3 m"\nleakage = "0.01 L/s"')
    loose = loose.replace('width = "3.2 m"', 'width = "3.2 m"\nleakage = "0.01 L/s"')
    back = '\n[run.back]\nfrom = "there"\nto = "here"\nsize = "160 mm"\n'
    way = (
        '[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "100 mm"\nparts = [{ is = "damper", angle = "35 deg" }]\n'
    )
    plan = written(loose + FAN + back + way + text)
    full, half = state(plan, "full"), state(plan, "half")
    assert half.flows["way"] / full.flows["way"] == pytest.approx(0.5, abs=0.002)
    assert half.streams[0].pressure / full.streams[0].pressure == pytest.approx(0.25, abs=0.002)


def test_a_fan_at_rest_is_an_obstacle() -> None:
    """The fresh-air fan stands still: the cooler goes on, and next to nothing passes the fan."""
    text = '[mode.normal]\n[mode.rest]\nspeeds = { fresh = "0 %" }\n'
    plan = written(ROOMS + FRESH + text)
    running, resting = state(plan), state(plan, "rest")
    assert abs(resting.flows["intake"]) < 0.15 * running.flows["intake"]
    assert resting.flows["trunk"] == pytest.approx(running.flows["trunk"], rel=0.05)
    assert not [f for f in assess(plan).findings if f.question == "fan" and f.mode == "rest" and f.subject == "fresh"]


def test_air_pushed_backwards_is_charged_for_friction() -> None:
    """A strong supply into `here` drives air the wrong way along a run that was written from `there`."""
    text = ROOMS + FAN.replace('from = "here"', 'from = "loft"')
    text += '[run.way]\nfrom = "fan.outlet"\nto = "here"\nsize = "160 mm"\n'
    text += '[run.wrong]\nfrom = "there"\nto = "here"\nsize = "100 mm"\n'
    text += 'parts = [{ is = "flexible duct", length = "6 m", pull = "slack" }]\n'
    text += '[run.out]\nfrom = "there"\nto = "loft"\nsize = "160 mm"\n'
    found = state(written(text))
    assert found.flows["wrong"] < -0.01
    assert found.pressures["here"] > found.pressures["there"] + 20.0


def test_the_order_of_the_file_does_not_matter() -> None:
    """Runs and movers turned round in the file: the same flows to a millionth."""
    plan = written(ROOMS + FRESH)
    turned = plan.model_copy(
        update={name: dict(reversed(getattr(plan, name).items())) for name in ("run", "mover", "room", "junction")}
    )
    first, second = state(plan), state(turned)
    for name, flow in first.flows.items():
        assert second.flows[name] == pytest.approx(flow, abs=1e-7), name


def test_the_flow_finding_tells_wanted_from_got() -> None:
    """A run that wants more than the fan can give is missed, one that wants less is met."""
    plan = relieved(PLAIN)
    got = state(plan).flows["way"]
    for share, standing in ((0.8, "met"), (1.08, "likely met"), (1.6, "missed")):
        wanted = plan.run["way"].model_copy(update={"wanted": share * got})
        asked = plan.model_copy(update={"run": plan.run | {"way": wanted}})
        assert [row[1] for row in findings(asked, "flow")] == [standing], share


def test_the_range_of_the_flow_is_stated() -> None:
    """Between five and thirty per cent, whatever the network."""
    for parts in ("", DUCT, '{ is = "flexible duct", length = "8 m", pull = "slack" }'):
        assert 0.05 < state(relieved(PLAIN, parts)).flow_spread < 0.3


def test_ledger_lines_carry_known_scatter() -> None:
    """Every line's key has a row of its own in the table of pressure scatter."""
    from sordino.tables import table

    known = set(table("air/scatter").text("key"))
    assessed: Assessment = assess(written(ROOMS + FRESH))
    for name in assessed.plan.run:
        for line in lines(assessed.plan, name, 0.05, "clean", STANDARD):
            assert line.scatter in known
