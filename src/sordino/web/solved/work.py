"""What is worked out for the page: quickly on coarse grids, then as `sordino assess` does once fields are known."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from sordino.assess.assessment import Assessment, assess
from sordino.assess.box_answer import BoxAnswer, box_answer, indoor_air
from sordino.assess.boxes import field_known
from sordino.elements.box_field import CASES, FINE, HEADLINE, LIVE, BoxField, box_field
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.errors import Fault, PlanError
from sordino.physics.air.properties import Air
from sordino.plan.project import plan_of, variants
from sordino.plan.reading import Document, parsed
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.quantities import Size

QUICK = 2.0 * LIVE
"""Cells of the first answer, m: an eighth of the usual number of them."""
UNSURE = 4.0
"""What the quick grid may be off by, dB: the most against the usual one over seven boxes of the examples (0.6 up to
250 Hz, 2.2 at 500 Hz, 3.9 above)."""
QUICK_KEPT = 64
"""Quick fields kept in memory."""
KEPT = 8
"""Assessments kept."""


Check = Callable[[], object]

_quickly: dict[tuple[str, Size, Air], BoxField] = {}


@dataclass(frozen=True, kw_only=True, slots=True)
class Looked:
    """A state of the project with all that was worked out of it."""

    source: Document
    plan: Plan
    found: Assessment
    waiting: tuple[str, ...]
    """Boxes whose field is only known on the quick grid."""


@dataclass
class Bench:
    """Assessments by the text they belong to."""

    known: OrderedDict[tuple[str, str, str | None], Looked] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)
    working: threading.Lock = field(default_factory=threading.Lock)
    """Held by who assesses: the same is never worked out twice at once."""

    def ready(self, text: str, name: str) -> bool:
        """Whether a text has been assessed already."""
        return (text, name, None) in self.known

    def looked(self, text: str, name: str, variant: str | None = None, give_up: Check = lambda: None) -> Looked:
        """Assess a project text; a PlanError has every mistake in it.

        `give_up` is called between the pieces of the work, and ends it by what it raises.
        """
        key = (text, name, variant)
        if (kept := self._kept(key)) is not None:
            return kept
        with self.working:
            return self._kept(key) or self._made(key, give_up)

    def _kept(self, key: tuple[str, str, str | None]) -> Looked | None:
        """What is known of a state, unless more is known of its boxes by now."""
        with self.lock:
            kept = self.known.get(key)
        return kept if kept is not None and not _better_known(kept) else None

    def _made(self, key: tuple[str, str, str | None], give_up: Check) -> Looked:
        with self.lock:
            before = next(reversed(self.known.values()), None)
        made = look(*key, before, give_up)
        with self.lock:
            self.known[key] = made
            self.known.move_to_end(key)
            while len(self.known) > KEPT:
                self.known.popitem(last=False)
        return made


def look(
    text: str, name: str, variant: str | None = None, before: Looked | None = None, give_up: Check = lambda: None
) -> Looked:
    """Read and assess a project text with what is known of its boxes, and of runs that are as they were before."""
    source = parsed(text, name)
    plan = plan_of(source, variant)
    air = indoor_air(plan)
    runs = {key: _as_before(key, run, before, air) or _with_fields(run, air, give_up) for key, run in plan.run.items()}
    parts = (part for run in runs.values() for part in run.parts)
    give_up()
    return Looked(
        source=source,
        plan=plan,
        found=assess(plan.model_copy(update={"run": runs}), before=before.found if before is not None else None),
        waiting=tuple(part.box for part in parts if isinstance(part, BuiltBox) and not usual(part)),
    )


def _as_before(key: str, run: Run, before: Looked | None, air: Air) -> Run | None:
    """A run with its fields as it was, unless it was another one or more can be known of its boxes by now."""
    if before is None or before.found.air != air or before.plan.run.get(key) != run:
        return None
    known = before.found.plan.run[key]
    return known if all(usual(part) for part in known.parts if isinstance(part, BuiltBox)) else None


def _with_fields(run: Run, air: Air, give_up: Check) -> Run:
    return run.model_copy(update={"parts": tuple(_with_field(part, air, give_up) for part in run.parts)})


def broken_variants(source: Document) -> tuple[Fault, ...]:
    """What a change has made impossible in the variants."""
    faults: dict[Fault, None] = {}
    for name in variants(source):
        try:
            plan_of(source, name)
        except PlanError as error:
            faults |= dict.fromkeys(error.faults)
    return tuple(faults)


def usual(part: BuiltBox) -> bool:
    """Whether a box has its field with all that is not known bracketed, not only the quick one."""
    return part.field is not None and len(part.field.losses) == len(CASES)


def _with_field(part: Element, air: Air, give_up: Check) -> Element:
    if not isinstance(part, BuiltBox):
        return part
    known = field_known(part.build, part.section, air)
    return part.model_copy(update={"solved": known or _quick(part, air, give_up)})


def _quick(part: BuiltBox, air: Air, give_up: Check = lambda: None) -> BoxField:
    """A field on the quick grid, kept in memory alone: writing it down takes as long as solving it."""
    acoustic = part.build.model_dump_json(exclude={"shell", "faces", "pull", "wrap"})
    key = (acoustic, part.section, air)
    if key not in _quickly:
        found = box_field(part.build, part.section, air, QUICK, cases=CASES[:HEADLINE], give_up=give_up)
        while len(_quickly) >= QUICK_KEPT:
            _quickly.pop(next(iter(_quickly)), None)
        _quickly[key] = replace(found, grid=np.full_like(found.frequency, UNSURE))
    return _quickly[key]


def _better_known(kept: Looked) -> bool:
    """Whether a better field of some box has been solved since."""
    if not kept.waiting:
        return False
    air = indoor_air(kept.plan)
    parts = (part for run in kept.plan.run.values() for part in run.parts if isinstance(part, BuiltBox))
    return any(part.box in kept.waiting and field_known(part.build, part.section, air) is not None for part in parts)


def answered(looked: Looked, name: str, mode: str | None) -> tuple[BoxAnswer, float]:
    """What is known of one box, on the best grid that has been solved, and the size of its cells in m."""
    plan = looked.found.plan  # with the fields that are known, so that none is solved here
    built = next(
        part for run in plan.run.values() for part in run.parts if isinstance(part, BuiltBox) and part.box == name
    )
    air = indoor_air(plan)
    for size in (FINE, LIVE):
        if field_known(built.build, built.section, air, size) is not None:
            return box_answer(plan, name, mode, size), size
    return box_answer(plan, name, mode, QUICK, _quick(built, air)), QUICK
