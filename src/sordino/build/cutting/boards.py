"""Every board of a project on sheets, kind by kind and thickness by thickness."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from time import monotonic

from sordino.build.cutting.blanks import Blank
from sordino.build.cutting.drawn import across, blank_side, layout, sheet_side
from sordino.build.cutting.enough import found_for_most
from sordino.build.cutting.records import CutPlan, Layout, Sheet
from sordino.build.cutting.search import searched
from sordino.build.cutting.stock import Kind
from sordino.build.part import Part

SAME = 0.05
"""Thicknesses that differ by less are one, mm."""
Saw = tuple[float, float]
"""Kerf and trim, mm."""


def board_plan(
    parts: tuple[Part, ...], stock: tuple[Sheet, ...], saw: Saw, keep: float, grained: bool, limit: float
) -> CutPlan:
    """The cut plan of all parts of one board and thickness; labels of its sheets are set later."""
    began = monotonic()
    kinds = _kinds(stock, saw)
    wanted, large, groups = _blanks(parts, kinds, saw[0], grained)
    found, left = found_for_most(searched, wanted, groups, kinds, limit)
    waiting = {number: list(group) for number, group in enumerate(groups)}
    ordered = sorted(found.solution, key=lambda used: (stock[used.kind].count is None, used.kind))
    return CutPlan(
        board=parts[0].board,
        thickness=parts[0].thickness,
        layouts=tuple(layout("", stock[used.kind], used.block, waiting, saw, keep, grained) for used in ordered),
        too_large=(*large, *left),
        kerf=saw[0],
        trim=saw[1],
        bound=found.sheets_bound,
        area_bound=found.cost_bound,
        method=found.method,
        limit=limit,
        seconds=monotonic() - began,
    )


def _kinds(stock: tuple[Sheet, ...], saw: Saw) -> tuple[Kind, ...]:
    return tuple(
        Kind(
            length=max(sheet_side(sheet.length, *saw), 1),
            width=max(sheet_side(sheet.width, *saw), 1),
            count=sheet.count,
            cost=1e-6 * sheet.area,
        )
        for sheet in stock
    )


def _blanks(
    parts: tuple[Part, ...], kinds: tuple[Kind, ...], kerf: float, grained: bool
) -> tuple[tuple[Blank, ...], tuple[Part, ...], list[list[Part]]]:
    """Parts of one size together, the largest first; and those too large for every sheet."""
    groups: dict[Blank, list[Part]] = {}
    large: list[Part] = []
    for part in sorted(parts, key=lambda part: -part.size[0] * part.size[1]):
        blank = _blank(part, kerf, grained)
        if any(_lies(blank, kind) for kind in kinds):
            groups.setdefault(blank, []).append(part)
        else:
            large.append(part)
    return tuple(replace(blank, count=len(group)) for blank, group in groups.items()), tuple(large), [*groups.values()]


def _lies(blank: Blank, kind: Kind) -> bool:
    return blank.fits(kind.length, kind.width)


def _blank(part: Part, kerf: float, grained: bool) -> Blank:
    u, v = (blank_side(side, kerf) for side in part.size)
    free = not (grained and part.grain != "none")
    return (
        Blank(length=v, width=u, count=1, turns=free)
        if across(part, grained)
        else Blank(length=u, width=v, count=1, turns=free)
    )


def groups_of(parts: tuple[Part, ...]) -> Iterator[tuple[Part, ...]]:
    """Parts of one board and thickness together, in the order in which they are met."""
    found: dict[tuple[str, int], list[Part]] = {}
    for part in parts:
        found.setdefault((part.board, round(part.thickness / SAME)), []).append(part)
    return (tuple(group) for group in found.values())


def labelled(plans: tuple[CutPlan, ...]) -> tuple[CutPlan, ...]:
    """With sheets numbered through."""
    number, done = 0, []
    for plan in plans:
        named: list[Layout] = []
        for one in plan.layouts:
            number += 1
            named.append(replace(one, label=f"Sheet {number}"))
        done.append(replace(plan, layouts=tuple(named)))
    return tuple(done)
