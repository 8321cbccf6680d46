"""What of a piece of the page has yet to be solved: it is solved apart, so that typing never waits for it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

from sordino.assess.box_answer import flow_through, indoor_air, standing
from sordino.assess.boxes import field_known
from sordino.elements.box import Box
from sordino.elements.box_layout import Clash
from sordino.elements.built_box import BuiltBox
from sordino.errors import OutOfRange
from sordino.plan.statement import Plan
from sordino.search.box_changes import candidates
from sordino.search.box_compared import BoxChange, changed, coarse_field, coarse_known, known, rebuilt


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """What a process of its own is asked for: fields of boxes, or those of the usual changes to them."""

    text: str
    name: str
    boxes: tuple[str, ...]
    size: float
    variant: str | None = None
    changes: bool = False


def unsolved(plan: Plan, size: float) -> tuple[str, ...]:
    """Boxes of a plan whose fields on cells of `size` m are not known."""
    air = indoor_air(plan)
    built = (part for run in plan.run.values() for part in run.parts if isinstance(part, BuiltBox))
    names = (part.box for part in built if field_known(part.build, part.section, air, size) is None)
    return tuple(dict.fromkeys(names))


def unsolved_changes(plan: Plan, key: str) -> int:
    """How many of the usual changes to a box have fields that are not known."""
    built, air = standing(plan, key).built, indoor_air(plan)
    return sum(not coarse_known(built, box, air) for box in _changed(built, plan))


def _changed(built: BuiltBox, plan: Plan) -> Iterator[Box]:
    """The box and what it would become, as far as that can be laid out."""
    yield built.build
    for _, change in candidates(built.build, plan.units):
        with suppress(Clash, OutOfRange):
            box = change(built.build, built.layout)
            if rebuilt(built, box).layout.length > 0.0:
                yield box


def usual_changes(plan: Plan, key: str) -> Iterator[BoxChange]:
    """What each usual change does to a box, on the grid on which changes are compared, one after the other."""
    air = indoor_air(plan)
    place = standing(plan, key)
    _, flow = flow_through(plan, place.run, None, air)
    base = known(place.built, coarse_field(place.built, place.built.build, air), air, flow, plan.units)
    for words, change in candidates(place.built.build, plan.units):
        yield changed(base, words, change)
