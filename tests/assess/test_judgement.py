"""Standing of a figure with a range, and findings on pressure, speed, balance and data."""

from __future__ import annotations

import numpy as np
import pytest

from small import FAN, ROOMS, between, written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.balance import Branch, branches
from sordino.assess.finding import Finding, standing
from sordino.assess.speeds import quiet_speed, wanted_size
from sordino.physics.air.properties import STANDARD
from sordino.plan.statement import Plan

FPM = 0.00508
TARGET = ROOMS.replace('width = "3.2 m"', 'width = "3.2 m"\ntarget = "NC-20"')
OPEN = ROOMS.replace('width = "3 m"', 'width = "3 m"\nleakage = "2 m3/s"').replace(
    'width = "3.2 m"', 'width = "3.2 m"\nleakage = "2 m3/s"'
)
ARMS = """
[junction.split]
is = "branch"

[run.trunk]
from = "fan.outlet"
to = "split"
size = "200 mm"
parts = [{ is = "metal duct", length = "1 m" }]

[run.short]
from = "split"
to = "here"
size = "125 mm"
wanted = "SHORT"
parts = [DAMPER{ is = "metal duct", length = "1 m" }]

[run.long]
from = "split"
to = "there"
size = "125 mm"
wanted = "LONG"
parts = [{ is = "metal duct", length = "6 m" }, { is = "bend", shape = "mitred" }]
"""


def of(assessed: Assessment, question: str) -> list[Finding]:
    """All findings on a question."""
    return [finding for finding in assessed.findings if finding.question == question]


@pytest.mark.parametrize(
    ("value", "low", "high", "verdict"),
    [
        (18, 15, 20, "met"),
        (18, 15, 23, "likely met"),
        (20, 15, 25, "likely met"),
        (22, 18, 26, "likely missed"),
        (26, 21, 30, "missed"),
    ],
)
def test_a_figure_with_a_range_against_its_limit(value: float, low: float, high: float, verdict: str) -> None:
    """Limit 20: all of the range under it, the figure under it, some of the range, nothing."""
    assert standing(value, low, high, 20.0) == verdict


def aimed(parts: str = "", size: str = "160 mm") -> Plan:
    """A fan from one room to another that is to be NC-20."""
    way = f'[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "{size}"\nparts = [{parts}]\n'
    return written(TARGET + FAN + way)


def test_a_room_misses_and_meets_its_target() -> None:
    """A bare fan against NC-20 misses; 45 dB of silencer meets it; the status of the whole follows."""
    silencer = (
        '{ is = "silencer", length = "2 m", loss = [45, 45, 45, 45, 45, 45, 45, 45], drop = "9 Pa", at = "60 L/s" }'
    )
    wide = '{ is = "transition", to = "500 x 400 mm", length = "0.4 m" }, { is = "grille" }'
    loud, quiet = (assess(aimed(parts)) for parts in ("", f"{silencer}, {wide}"))
    verdicts = [f.standing for each in (loud, quiet) for f in of(each, "noise") if f.subject == "there"]
    assert verdicts[0] == "missed"
    assert verdicts[1] in ("met", "likely met")
    assert loud.missed


def test_quiet_speeds_go_by_the_rooms_target() -> None:
    """Free-area speed for NC-20: 300 ft/min for supply, 360 for return (textbook table, read)."""
    plan = aimed()
    draw = plan.run["draw"].model_copy(update={"start": "there"})
    plan = plan.model_copy(update={"run": plan.run | {"draw": draw}})
    assert quiet_speed(plan, "way", "normal") == pytest.approx(300 * FPM)
    assert quiet_speed(plan, "draw", "normal") == pytest.approx(360 * FPM)
    assert quiet_speed(between(""), "way", "normal") is None


def test_a_fast_opening_is_named_with_both_speeds() -> None:
    """What runs through the bare end against what suits the target, where the rooms leak enough to let air by."""
    plan = aimed(size="100 mm")
    leaky = {name: room.model_copy(update={"leakage": 2.0}) for name, room in plan.room.items()}
    assessed = assess(plan.model_copy(update={"room": leaky}))
    finding = next(f for f in of(assessed, "air speed") if f.subject == "way")
    flow = assessed.states["normal", "clean"].flows["way"]
    assert finding.value == pytest.approx(flow / (np.pi / 4 * 0.01))
    assert finding.limit == pytest.approx(300 * FPM)
    assert "open end" in finding.sentence


def test_the_size_that_a_flow_wants() -> None:
    """100 L/s at 2 m/s: 0.05 m2, 252 mm exactly; 300 mm is the next sold; 316 x 158 mm flat."""
    size = wanted_size(-0.1, 2.0)
    assert size.exact == pytest.approx(0.2523, abs=1e-4)
    assert size.standard == pytest.approx(0.300)
    assert size.at_standard == pytest.approx(1.415, abs=0.001)
    assert (size.flat.width, size.flat.height) == pytest.approx((0.3162, 0.1581), abs=1e-4)


def test_a_size_that_is_sold_is_not_rounded_up() -> None:
    """The flow that 200 mm carries at 3 m/s wants 200 mm; beyond the largest the largest is named."""
    assert wanted_size(3.0 * np.pi / 4 * 0.04, 3.0).standard == pytest.approx(0.200)
    assert wanted_size(5.0, 1.0).standard < wanted_size(5.0, 1.0).exact


def split(short: str, long: str, damper: str = "") -> Plan:
    """A fan that blows into two leaky rooms by a short and a long arm that want these flows."""
    arms = ARMS.replace("SHORT", short).replace("LONG", long).replace("DAMPER", damper)
    return written(OPEN + FAN.replace('from = "here"', 'from = "loft"') + arms)


def test_the_arm_with_pressure_to_spare_is_the_short_one() -> None:
    """At equal flows: the difference of their ledgers, none for the other."""
    arms = {arm.run: arm for arm in branches(split("30 L/s", "30 L/s"), STANDARD)}
    assert arms["long"].surplus == 0.0
    assert arms["long"].angle == 0.0
    assert arms["short"].surplus == pytest.approx(arms["long"].drop - arms["short"].drop)
    assert arms["short"].surplus > 3.0


@pytest.mark.parametrize(("short", "long"), [("30 L/s", "30 L/s"), ("24 L/s", "30 L/s"), ("40 L/s", "36 L/s")])
def test_the_damper_said_balances_the_arms(short: str, long: str) -> None:
    """A blade turned as said: the flows share as they are wanted, within 3 %."""
    arm = next(each for each in branches(split(short, long), STANDARD) if each.run == "short")
    damper = f'{{ is = "damper", angle = "{arm.angle:.3f} deg" }}, '
    flows = assess(split(short, long, damper)).states["normal", "clean"].flows
    wanted = float(short.split()[0]) / float(long.split()[0])
    assert flows["short"] / flows["long"] == pytest.approx(wanted, rel=0.03)


def test_an_arm_that_has_a_damper_already_is_told_the_whole_angle() -> None:
    """What it should stand at, not what to add: from any angle it stands at now, the same answer."""

    def angle(now: str) -> Branch:
        damper = f'{{ is = "damper", angle = "{now}" }}, '
        return next(each for each in branches(split("30 L/s", "30 L/s", damper), STANDARD) if each.run == "short")

    assert angle("20 deg").angle == pytest.approx(angle("0 deg").angle, abs=0.5)


def test_arms_that_want_nothing_are_not_judged() -> None:
    """Balance needs wanted flows on every arm."""
    plan = split("30 L/s", "30 L/s")
    silent = plan.run["long"].model_copy(update={"wanted": None})
    assert branches(plan.model_copy(update={"run": plan.run | {"long": silent}}), STANDARD) == ()


def test_a_door_held_by_pressure() -> None:
    """0.8 x 2 m, handle 70 mm in, 60 Pa: 60 x 1.6 x 0.8 / (2 x 0.73) = 52.6 N (IBC equation 9-1)."""
    tight = ROOMS.replace('width = "3.2 m"', 'width = "3.2 m"\nleakage = "2 L/s"')
    assessed = assess(written(tight + FAN + '[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n'))
    each = next(row for row in assessed.pressures["normal"] if row.room == "there")
    assert each.pressure > 10.0
    assert each.force == pytest.approx(each.pressure * 1.6 * 0.8 / (2 * 0.73))
    (finding,) = [f for f in of(assessed, "pressure") if f.subject == "there"]
    assert finding.standing == ("missed" if each.force > 133.0 else "note")
    assert "local code rules" in finding.sentence


def test_a_door_that_can_hardly_be_opened_is_missed() -> None:
    """A strong fan into a tight room with a wide door: more than 133 N."""
    tight = ROOMS.replace(
        'width = "3.2 m"', 'width = "3.2 m"\nleakage = "1 L/s"\ndoor = { width = "1.2 m", height = "2.1 m" }'
    )
    strong = FAN.replace('"150 Pa"', '"400 Pa"').replace('"120 Pa"', '"300 Pa"')
    assessed = assess(written(tight + strong + '[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n'))
    (finding,) = [f for f in of(assessed, "pressure") if f.subject == "there"]
    assert finding.standing == "missed"
    assert finding.limit == 133.0
    assert "way round the door" in finding.sentence


def test_every_guess_is_told_once() -> None:
    """An estimate, a value held, a spectrum that was guessed."""
    flex = '{ is = "flexible duct", length = "1 m" }'
    data = [f.sentence for f in of(assess(between(f"{flex}, {flex}")), "data")]
    assert len([line for line in data if "8 kHz" in line]) == 1
    assert len([line for line in data if "no spectrum given for inlet" in line]) == 1
