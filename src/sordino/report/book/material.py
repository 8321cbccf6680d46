"""Everything that a book is made from, worked out before any page is set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sordino.assess.assessment import Assessment
from sordino.assess.box_answer import BoxAnswer
from sordino.build.cutting.records import Cutting
from sordino.build.kit import Kit
from sordino.build.lists import Cost, Quantities
from sordino.build.steps import Step
from sordino.build.weight import Weight
from sordino.plan.statement import Plan
from sordino.report.book.paper import Paper
from sordino.units import System


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxMaterial:
    """One box."""

    kit: Kit
    steps: tuple[Step, ...]
    weight: Weight
    answer: BoxAnswer

    @property
    def name(self) -> str:
        """Its name in the project."""
        return self.kit.name


@dataclass(frozen=True, kw_only=True, slots=True)
class Material:
    """A whole project."""

    found: Assessment
    boxes: tuple[BoxMaterial, ...]
    cutting: Cutting
    quantities: Quantities
    cost: Cost
    paper: Paper
    number: int
    """Of this book, counted up from the last one in its folder."""
    day: str
    """On which it was made, as 2026-11-25."""
    last: dict[str, Any] | None
    """What the last book in this folder was made of; None for the first."""
    variant: str | None = None

    @property
    def plan(self) -> Plan:
        """The project."""
        return self.found.plan

    @property
    def units(self) -> System:
        """In which people read it."""
        return self.plan.units

    @property
    def title(self) -> str:
        """The project's name, and the variant's."""
        return self.plan.title + (f", variant {self.variant}" if self.variant else "")

    @property
    def footer(self) -> str:
        """What stands at the foot of every page."""
        return f"{self.title} · book {self.number} · {self.day}"
