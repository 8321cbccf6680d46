"""Books made from small plans, for tests."""

from __future__ import annotations

from functools import cache
from typing import Any

from boxed import boxed
from sordino.assess.assessment import assess
from sordino.assess.box_answer import box_answer
from sordino.build.cost import cost
from sordino.build.cutting.plan import cutting
from sordino.build.kit import kits
from sordino.build.quantities import quantities
from sordino.build.steps import steps
from sordino.build.weight import weight
from sordino.cli.new import bundled
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan
from sordino.report.book.blocks import Block, Page, Picture, Pictures
from sordino.report.book.material import BoxMaterial, Material
from sordino.report.book.pages import pages
from sordino.report.book.paper import PAPERS, Paper, usual
from sordino.report.drawing.records import Sheet


def book_of(plan: Plan, last: dict[str, Any] | None = None, paper: Paper | None = None) -> Material:
    """A book of a plan, made on one fixed day."""
    boxes = kits(plan)
    cut = cutting(boxes, plan.build, plan.units, 1.0)
    needed, found = quantities(plan, boxes, cut), assess(plan)
    each = tuple(
        BoxMaterial(kit=one, steps=steps(one, plan.units), weight=weight(one), answer=box_answer(found.plan, one.name))
        for one in boxes
    )
    return Material(
        found=found,
        boxes=each,
        cutting=cut,
        quantities=needed,
        cost=cost(needed, plan.build),
        paper=paper or usual(plan.units),
        number=1 + int((last or {}).get("number", 0)),
        day="2026-03-14",
        last=last,
    )


@cache
def book(name: str, units: str = "metric") -> Material:
    """The book of one small box."""
    return book_of(boxed(name, units))


@cache
def example(name: str = "mill-loft.toml") -> Material:
    """The book of a bundled example."""
    return book_of(plan_of(parsed(bundled(name), name)))


_MADE: dict[int, tuple[Material, tuple[Page, ...]]] = {}


def pages_of(made: Material) -> tuple[Page, ...]:
    """All its pages but the cover, made once."""
    if id(made) not in _MADE:
        _MADE[id(made)] = made, tuple(pages(made))
    return _MADE[id(made)][1]


def sheets_of(blocks: tuple[Block, ...]) -> tuple[Sheet, ...]:
    """Every drawing among blocks."""
    found = [block.sheet for block in blocks if isinstance(block, Picture)]
    return (*found, *(sheet for block in blocks if isinstance(block, Pictures) for _, sheet in block.sheets))


__all__ = ["PAPERS", "book", "book_of", "example", "pages_of", "sheets_of"]
