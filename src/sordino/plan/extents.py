"""Sizes that can't be true together: patches and shells larger than their room, a listener outside it."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.plan.faults import Complaint
from sordino.plan.statement import Plan
from sordino.units import show

SLACK = 1.05
"""How much larger than the room a measured area may be: rounding, and shells measured outside (judgement)."""


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every size that no room of the plan could have."""
    yield from _patches(plan)
    yield from _single_shells(plan) or _shells_together(plan)
    yield from _listeners(plan)


def _patches(plan: Plan) -> Iterator[Complaint]:
    for name, room in plan.room.items():
        covered, most = sum(patch.area for patch in room.surfaces.patches), room.wall_area + room.ceiling_area
        if covered > SLACK * most:
            what = f"the patches take {_area(plan, covered)}, but walls and ceiling have only {_area(plan, most)}"
            yield ("room", name, "surfaces", "patches"), what, "check their areas, and the room's sizes"


def _single_shells(plan: Plan) -> list[Complaint]:
    found: list[Complaint] = []
    for name, shell in plan.shell.items():
        for place in shell.between:
            if place in plan.room and shell.area > SLACK * plan.room[place].surface:
                whole = _area(plan, plan.room[place].surface)
                what = f"{_area(plan, shell.area)} is more than the room {place!r} has on all its sides ({whole})"
                found.append((("shell", name, "area"), what, "give the area of what parts the two places"))
                break
    return found


def _shells_together(plan: Plan) -> Iterator[Complaint]:
    for name, room in plan.room.items():
        mine = [key for key, shell in plan.shell.items() if name in shell.between]
        together = sum(plan.shell[key].area for key in mine)
        if together > SLACK * room.surface:
            what = f"its shells {', '.join(mine)} take {_area(plan, together)} together, but the room has only "
            yield ("room", name), f"{what}{_area(plan, room.surface)} on all its sides", "check the shells' areas"


def _listeners(plan: Plan) -> Iterator[Complaint]:
    for name, room in plan.room.items():
        if "listener" in room.model_fields_set and room.listener > room.diagonal:
            far, most = (show(length, "length", plan.units) for length in (room.listener, room.diagonal))
            what = f"{far} is farther than the room reaches from corner to corner ({most})"
            yield ("room", name, "listener"), what, "give the distance from the nearest opening to the ear"


def _area(plan: Plan, value: float) -> str:
    return show(value, "area", plan.units)
