"""The sound fields of a plan's boxes, each solved once and kept by content."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from sordino.cache import key_of, remembered
from sordino.elements.box import Box
from sordino.elements.box_field import CASES, LIVE, VERSION, BoxField, Case, box_field, cell_size, from_plain, plain
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.physics.air.properties import Air
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.quantities import Size

KEPT = 64
"""Fields kept in memory."""


def with_fields(plan: Plan, air: Air) -> Plan:
    """The plan with the sound field of every box that has none yet."""
    if not unsolved(plan):
        return plan
    runs = {name: _solved(run, air) for name, run in plan.run.items()}
    return plan.model_copy(update={"run": runs})


def unsolved(plan: Plan) -> bool:
    """Whether some box of a plan has no sound field yet."""
    return any(_waits(part) for run in plan.run.values() for part in run.parts)


def _solved(run: Run, air: Air) -> Run:
    if not any(_waits(part) for part in run.parts):
        return run
    return run.model_copy(update={"parts": tuple(_with_field(part, air) for part in run.parts)})


def _with_field(part: Element, air: Air) -> Element:
    if not isinstance(part, BuiltBox) or part.field is not None:
        return part
    return part.model_copy(update={"solved": field_of(part.build, part.section, air)})


def _waits(part: Element) -> bool:
    return isinstance(part, BuiltBox) and part.field is None


def field_of(box: Box, section: Size, air: Air, size: float = LIVE, cases: tuple[Case, ...] = CASES) -> BoxField:
    """The field of a box for a run of that section, on cells of `size` m; solved now if it is not known yet."""
    acoustic = box.model_dump(mode="json", exclude={"shell", "faces", "pull", "as_built", "measured"})
    shape = (section.round, section.width, section.height)
    medium = (air.density, air.sound_speed, air.viscosity, air.pressure)
    key = key_of("box field", VERSION, [case.name for case in cases], acoustic, shape, medium, cell_size(box, size))
    return _recalled(key, lambda: box_field(box, section, air, size, cases=cases))


class _Work:
    """A piece of work told apart by its key alone."""

    def __init__(self, key: str, work: Callable[[], BoxField]) -> None:
        self.key, self.work = key, work

    def __hash__(self) -> int:
        return hash(self.key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Work) and self.key == other.key


def _recalled(key: str, work: Callable[[], BoxField]) -> BoxField:
    return _in_memory(_Work(key, work))


@lru_cache(maxsize=KEPT)
def _in_memory(wanted: _Work) -> BoxField:
    return from_plain(remembered(wanted.key, lambda: plain(wanted.work())))
