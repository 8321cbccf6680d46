"""The sound fields of a plan's boxes, each solved once and kept by content."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from sordino.cache import kept, key_of, remembered
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
_memory: dict[str, BoxField] = {}


@dataclass(frozen=True, kw_only=True, slots=True)
class _Work:
    """One box in one duct, to be solved on cells of `size` m for some brackets."""

    box: Box
    section: Size
    air: Air
    size: float
    cases: tuple[Case, ...]

    @property
    def key(self) -> str:
        """Changes with all that the field depends on."""
        acoustic = self.box.model_dump(mode="json", exclude={"shell", "faces", "pull", "wrap", "as_built", "measured"})
        shape = (self.section.round, self.section.width, self.section.height)
        medium = (self.air.density, self.air.sound_speed, self.air.viscosity, self.air.pressure)
        names, cells = [case.name for case in self.cases], cell_size(self.box, self.size)
        return key_of("box field", VERSION, names, acoustic, shape, medium, cells)

    def done(self) -> dict[str, Any]:
        """The field as plain values."""
        return plain(box_field(self.box, self.section, self.air, self.size, cases=self.cases))


def with_fields(plan: Plan, air: Air) -> Plan:
    """The plan with the sound field of every box that has none yet; several unknown ones are solved side by side."""
    waiting = [part for run in plan.run.values() for part in run.parts if _waits(part)]
    if not waiting:
        return plan
    _solve_together([_work(part.build, part.section, air) for part in waiting if isinstance(part, BuiltBox)])
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
    work = _work(box, section, air, size, cases)
    return _recalled(work.key, work.done)


def field_known(
    box: Box, section: Size, air: Air, size: float = LIVE, cases: tuple[Case, ...] = CASES
) -> BoxField | None:
    """The field of a box if it has been solved on such cells before; None if it would have to be solved now."""
    work = _work(box, section, air, size, cases)
    return _recalled(work.key, work.done) if work.key in _memory or kept(work.key) is not None else None


def _work(box: Box, section: Size, air: Air, size: float = LIVE, cases: tuple[Case, ...] = CASES) -> _Work:
    return _Work(box=box, section=section, air=air, size=size, cases=cases)


def _recalled(key: str, work: Callable[[], dict[str, Any]]) -> BoxField:
    if key not in _memory:
        found = from_plain(remembered(key, work))
        while len(_memory) >= KEPT:
            del _memory[next(iter(_memory))]
        _memory[key] = found
    return _memory[key]


def _solve_together(works: list[_Work]) -> None:
    """Solve what is neither in memory nor in the store, the largest boxes first, a process for each core."""
    unknown = {key: work for work in works if (key := work.key) not in _memory and kept(key) is None}
    cores = min(_cores(), len(unknown))
    if cores < 2:
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    ordered = sorted(unknown.items(), key=lambda item: -_volume(item[1].box))
    with ProcessPoolExecutor(cores, get_context("fork")) as pool:
        for (key, _), found in zip(ordered, pool.map(_Work.done, [work for _, work in ordered]), strict=True):
            _recalled(key, partial(_same, found))


def _same(found: dict[str, Any]) -> dict[str, Any]:
    return found


def _volume(box: Box) -> float:
    return box.length * box.width * box.height


def _cores() -> int:
    """Processes that may work at once: one where a process can't safely be copied as it stands.

    That is so with threads of its own; and processes whose linear algebra has threads hinder one another tenfold.
    """
    alone = "1" in (os.environ.get("OMP_NUM_THREADS"), os.environ.get("OPENBLAS_NUM_THREADS"))
    if sys.platform != "linux" or threading.active_count() > 1 or not alone:
        return 1
    return len(os.sched_getaffinity(0))
