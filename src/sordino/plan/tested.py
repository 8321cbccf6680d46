"""What must hold between the tests of a plan and the rest of it: names that exist, modes that are said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sordino.elements.lined_box import LinedBox
from sordino.names import near
from sordino.plan.faults import Complaint
from sordino.plan.lines import Path
from sordino.plan.statement import Plan
from sordino.plan.test import AirFlow, InsertionLoss, LevelDifference, Reverberation, RoomNoise, Vent


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every mistake in the tests, and in what is stated as measured."""
    for name, test in plan.test.items():
        path: Path = ("test", name)
        if isinstance(test, InsertionLoss):
            yield from _thing(plan, path, test)
        if isinstance(test, LevelDifference | Vent):
            yield from _known((*path, "from"), test.start, plan.room, "room")
            yield from _known((*path, "to"), test.end, plan.room, "room")
            if test.start == test.end:
                yield (*path, "to"), f"{test.end!r} is where the loudspeaker stands", "name the room that listens"
        if isinstance(test, RoomNoise | Reverberation):
            yield from _known((*path, "room"), test.room, plan.room, "room")
        if isinstance(test, AirFlow):
            yield from _air(plan, path, test)
        if isinstance(test, AirFlow | RoomNoise):
            yield from _mode(plan, (*path, "mode"), test.mode)
    yield from _flows(plan)


def _thing(plan: Plan, path: Path, test: InsertionLoss) -> Iterator[Complaint]:
    if test.box is not None:
        yield from _known((*path, "box"), test.box, plan.box, "box")
    if test.run is not None:
        yield from _known((*path, "run"), test.run, plan.run, "run")


def _air(plan: Plan, path: Path, test: AirFlow) -> Iterator[Complaint]:
    yield from _known((*path, "run"), test.run, plan.run, "run")
    boxes = [part for part in plan.run[test.run].parts if isinstance(part, LinedBox)] if test.run in plan.run else []
    if test.box_pressure is not None and test.run in plan.run and len(boxes) != 1:
        count = "no box" if not boxes else f"{len(boxes)} boxes"
        yield (*path, "box_pressure"), f"{test.run!r} has {count}", "measure a run that holds one box"


def _mode(plan: Plan, path: Path, mode: str | None) -> Iterator[Complaint]:
    if mode is not None:
        yield from _known(path, mode, plan.mode, "mode")
    elif len(plan.mode) > 1:
        yield path[:-1], "the test does not say in which mode the fans ran", f"add mode, one of {', '.join(plan.mode)}"


def _flows(plan: Plan) -> Iterator[Complaint]:
    for name, run in plan.run.items():
        for mode in run.measured:
            if mode == "":
                if len(plan.mode) > 1:
                    cure = f'write it as {{ {next(iter(plan.mode))} = "…" }}'
                    yield ("run", name, "measured"), "the measured flow does not say in which mode", cure
            else:
                yield from _known(("run", name, "measured", mode), mode, plan.mode, "mode")


def _known(path: Path, name: str, known: Iterable[str], what: str) -> Iterator[Complaint]:
    names = tuple(known)
    if name not in names:
        meant = near(name, names)
        hint = f"did you mean {meant}? " if meant else ""
        listed = f"there are {', '.join(names)}" if names else f"the file states no {what}"
        yield path, f"there is no {what} {name!r}", hint + listed
