"""Laws of an assessment: names, order and units change nothing; louder is as much louder; loss never helps sound."""

from __future__ import annotations

import re
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from small import between, transfer, written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.contribution import Contribution
from sordino.bands import Bands
from sordino.plan.mover import Mover
from sordino.plan.statement import Plan

EXAMPLE = files("sordino.examples").joinpath("mill-loft.toml").read_text("utf-8").split("[variant.")[0]
CLOSE = 1e-3
"""Levels that differ by less, dB, are the same: air is balanced to 1e-5 Pa, and its noise goes by 60 lg of flow."""


@pytest.fixture(scope="module")
def example() -> Assessment:
    """The example as it stands."""
    return assess(written(EXAMPLE))


def figures(assessed: Assessment) -> dict[str, float]:
    """Every number that a reader sees, by what it is about."""
    found = {
        f"{finding.question} {finding.subject} {finding.mode} {number}": float(getattr(finding, number))
        for finding in assessed.findings
        for number in ("value", "low", "high", "limit")
        if getattr(finding, number) is not None
    }
    for (place, mode), heard in assessed.noise.items():
        found |= {f"level {place} {mode} {band}": level for band, level in enumerate(heard.levels.tolist())}
        found |= {f"spread {place} {mode} {band}": width for band, width in enumerate(heard.above.tolist())}
    for place, heard in assessed.crosstalk.items():
        found |= {f"level {place} {band}": level for band, level in enumerate(heard.levels.tolist())}
    for (mode, filters), state in assessed.states.items():
        found |= {f"flow {name} {mode} {filters}": flow for name, flow in state.flows.items()}
    return found


def assert_same(one: dict[str, float], other: dict[str, float]) -> None:
    """The same things with the same numbers."""
    assert one.keys() == other.keys()
    for what, value in one.items():
        assert other[what] == pytest.approx(value, abs=CLOSE, nan_ok=True), what


def test_names_change_nothing(example: Assessment) -> None:
    """Rooms, spaces, movers, runs and junctions called otherwise: the same numbers under other names."""
    words = {
        "reading": "zoo",
        "practice": "attic-b",
        "cooler": "aardvark",
        "eaves": "moon",
        "return-plenum": "p2",
        "extract-join": "a1",
        "trunk": "branchless",
    }
    pattern = re.compile("|".join(sorted(words, key=len, reverse=True)))

    def renamed(text: str) -> str:
        return pattern.sub(lambda match: words[match[0]], text)

    told = {renamed(what): value for what, value in figures(example).items()}
    assert_same(told, figures(assess(written(renamed(EXAMPLE)))))


def test_order_changes_nothing(example: Assessment) -> None:
    """Every table of the file turned round, last first."""
    tables = ("room", "space", "shell", "mover", "box", "junction", "run", "mode")
    turned = example.plan.model_copy(
        update={name: dict(reversed(getattr(example.plan, name).items())) for name in tables}
    )
    assert_same(figures(example), figures(assess(turned)))


INCHES = {
    "mm": (1 / 25.4, "in"),
    "m": (1 / 0.3048, "ft"),
    "m2": (1 / 0.3048**2, "ft2"),
    "m3": (1 / 0.3048**3, "ft3"),
    "m³/h": (1 / 3600.0 / (0.3048**3 / 60.0), "cfm"),
    "Pa": (1 / 249.0889, "in w.g."),
    "kg/m2": (0.3048**2 / 0.45359237, "lb/ft2"),
}


def in_inches(text: str) -> str:
    """The same statement with every length, area, flow and pressure in inch-pound units."""

    def one(match: re.Match[str]) -> str:
        factor, unit = INCHES[match[2]]
        numbers = " x ".join(f"{float(number) * factor:.12g}" for number in match[1].split(" x "))
        return f'"{numbers} {unit}"'

    return re.sub(r'"(-?[\d.]+(?: x [\d.]+)?) (mm|m|m2|m3|m³/h|Pa|kg/m2)"', one, text)


def test_units_change_nothing(example: Assessment) -> None:
    """Written in inches, feet, cfm and inches of water: the same numbers."""
    text = in_inches(EXAMPLE)
    assert ' mm"' not in text
    assert ' m³/h"' not in text
    assert_same(figures(example), figures(assess(written(text))))


def test_two_modes_alike_give_one_answer() -> None:
    """What a mode is called does not matter."""
    plan = between('{ is = "bend" }')
    twice = plan.model_copy(update={"mode": {"one": plan.mode["normal"], "two": plan.mode["normal"]}})
    found = assess(twice)
    for place in plan.room:
        np.testing.assert_allclose(found.noise[place, "one"].levels, found.noise[place, "two"].levels, atol=CLOSE)


def louder(mover: Mover, by: float) -> Mover:
    """The mover with every spectrum and its rated figure raised."""
    sound = mover.sound
    raised = {
        port: tuple(level + by for level in spectrum)
        for port in ("supply", "return_", "inlet", "outlet", "outdoor", "extract", "exhaust", "casing")
        if (spectrum := getattr(sound, port)) is not None
    }
    rated = {} if sound.rated is None else {"rated": sound.rated + by}
    return mover.model_copy(update={"sound": sound.model_copy(update=raised | rated)})


def by_way(assessed: Assessment, place: str, mode: str, *causes: str) -> dict[tuple[str, str, str], Bands]:
    """Levels of the sounds of some causes by where they come from and which way."""
    sounds: tuple[Contribution, ...] = assessed.noise[place, mode].heard.contributions
    return {(s.origin, s.via, s.station): s.levels for s in sounds if s.cause in causes}


@pytest.mark.parametrize("name", ["cooler", "fresh"])
def test_five_decibels_louder_is_five_decibels_louder(example: Assessment, name: str) -> None:
    """Each fan contribution of that mover by 5 dB in every band, those of the other mover and of the air not at all."""
    plan = example.plan
    raised = assess(plan.model_copy(update={"mover": plan.mover | {name: louder(plan.mover[name], 5.0)}}))
    for place, mode in example.noise:
        before, after = (by_way(found, place, mode, "fan") for found in (example, raised))
        assert before.keys() == after.keys()
        for key, levels in before.items():
            np.testing.assert_allclose((after[key] - levels)[1:], 5.0 if key[0] == name else 0.0, atol=1e-9)
        still, stays = (by_way(found, place, mode, "air") for found in (example, raised))
        for key, levels in still.items():
            np.testing.assert_allclose(stays[key], levels, atol=1e-9)


SILENCER = '{{ is = "silencer", length = "1 m", loss = {}, drop = "9 Pa", at = "60 L/s" }}'
LOSSES = st.lists(st.floats(0.0, 40.0), min_size=8, max_size=8)
AROUND = st.lists(
    st.sampled_from(
        [
            '{ is = "metal duct", length = "0.9 m" }',
            '{ is = "bend" }',
            '{ is = "transition", to = "250 mm" }, { is = "metal duct", length = "0.4 m" }, '
            '{ is = "transition", to = "160 mm" }',
            '{ is = "grille", opening = "300 x 150 mm" }',
        ]
    ),
    max_size=3,
)


@settings(max_examples=25, deadline=None)
@given(loss=LOSSES, more=LOSSES, before=AROUND, after=AROUND)
def test_more_loss_on_the_way_never_raises_what_arrives(
    loss: list[float], more: list[float], before: list[str], after: list[str]
) -> None:
    """Wherever it sits among parts that reflect, below cut-on and above, for fan noise and from room to room."""
    rest = [part for part in after if "grille" not in part] + [part for part in after if "grille" in part][:1]
    front = [part for part in before if "grille" not in part]

    def levels(values: list[float], plan_of: str) -> list[Bands]:
        parts = ", ".join([*front, SILENCER.format([round(value, 3) for value in values]), *rest])
        plan = between(parts) if plan_of == "between" else transfer(parts)
        carriages = assess(plan).acoustics.carriages
        return [carried.total for carried in carriages if "way" in carried.route.name()]

    for kind in ("between", "transfer"):
        for less, most in zip(
            levels(loss, kind), levels([a + b for a, b in zip(loss, more, strict=True)], kind), strict=True
        ):
            assert np.all(most[1:] <= less[1:] + 1e-6)


TEE = """
[room.here]
length = "4 m"
width = "3 m"
height = "2.4 m"

[room.there]
length = "5 m"
width = "3.2 m"
height = "2.5 m"

[space.outside]
is = "outside"

[mover.fan]
is = "inline fan"
in = "outside"
curve = [["0 L/s", "90 Pa"], ["50 L/s", "0 Pa"]]
sound = {{ rated = "35 dBA" }}

[junction.split]
is = "branch"

[run.intake]
from = "outside"
to = "fan.inlet"
size = "125 mm"

[run.trunk]
from = "fan.outlet"
to = "split"
size = "160 mm"
parts = [{{ is = "metal duct", length = "{trunk:.4f} m" }}]

[run.left]
from = "split"
to = "here"
size = "{left} mm"
parts = [{{ is = "metal duct", length = "{arm:.4f} m" }}]

[run.right]
from = "split"
to = "there"
size = "{right} mm"
parts = [{{ is = "bend" }}]
"""


@settings(max_examples=25, deadline=None)
@given(
    trunk=st.floats(0.1, 5.0),
    arm=st.floats(0.1, 5.0),
    left=st.sampled_from([100, 125, 160]),
    right=st.sampled_from([100, 160]),
)
def test_a_branch_hands_out_no_more_than_it_gets(trunk: float, arm: float, left: int, right: int) -> None:
    """The power that leaves by both rooms is at most the fan's, in every band."""
    plan: Plan = written(TEE.format(trunk=trunk, arm=arm, left=left, right=right))
    carriages = assess(plan).acoustics.carriages
    totals = [c.total[1:] for c in carriages if c.route.start.place == "fan" and c.route.end.kind == "room"]
    assert len(totals) == 2
    assert np.all(np.sum(10.0 ** (np.array(totals) / 10.0), axis=0) <= 1.0 + 1e-9)


def test_slower_is_never_louder(example: Assessment) -> None:
    """Every mode at nine tenths of its speeds: no figure rises."""
    modes = {
        name: mode.model_copy(update={"speeds": {key: 0.9 * speed for key, speed in mode.speeds.items()}})
        for name, mode in example.plan.mode.items()
    }
    slow = assess(example.plan.model_copy(update={"mode": modes}))
    for key, heard in example.noise.items():
        assert np.all(np.nan_to_num(slow.noise[key].levels - heard.levels) <= 1e-9), key


def test_a_better_shell_is_never_louder(example: Assessment) -> None:
    """The gable raised by 6 dB: the neighbour hears no more, the rest hear the same or less."""
    shell = example.plan.shell["gable"]
    assert shell.loss is not None
    better = shell.model_copy(update={"loss": tuple(value + 6.0 for value in shell.loss)})
    found = assess(example.plan.model_copy(update={"shell": example.plan.shell | {"gable": better}}))
    for place, heard in example.crosstalk.items():
        assert np.all(np.nan_to_num(found.crosstalk[place].levels - heard.levels) <= 1e-9), place
