"""Every stick of a project on bars, section by section."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from time import monotonic

from sordino.build.cutting.blanks import Blank, Block
from sordino.build.cutting.drawn import TENTHS, blank_side, sheet_side
from sordino.build.cutting.enough import found_for_most
from sordino.build.cutting.lines import searched_lines
from sordino.build.cutting.records import Bar, CutStick, Length, StickPlan
from sordino.build.cutting.stock import Kind
from sordino.build.part import Stick


def section_of(stick: Stick) -> tuple[float, float]:
    """Sides of the square stick it is made of, the shorter first, to a tenth of a millimetre."""
    short, long = sorted(stick.size)
    return round(short, 1), round(long, 1)


def stick_plan(sticks: tuple[Stick, ...], stock: tuple[Length, ...], kerf: float, limit: float) -> StickPlan:
    """The cut plan of all sticks of one section; labels of its bars are set later. Bars' ends need no trimming."""
    began = monotonic()
    kinds = tuple(
        Kind(length=sheet_side(one.length, kerf, 0.0), width=1, count=one.count, cost=one.length) for one in stock
    )
    longest = max((kind.length for kind in kinds), default=0)
    groups: dict[int, list[Stick]] = {}
    for stick in sorted(sticks, key=lambda stick: -stick.length):
        groups.setdefault(blank_side(stick.length, kerf), []).append(stick)
    long = tuple(stick for length, group in groups.items() if length > longest for stick in group)
    fitting = {length: group for length, group in groups.items() if length <= longest}
    blanks = tuple(Blank(length=length, width=1, count=len(group)) for length, group in fitting.items())
    waiting = [list(group) for group in fitting.values()]
    found, left = found_for_most(searched_lines, blanks, waiting, kinds, limit)
    ordered = sorted(found.solution, key=lambda used: (stock[used.kind].count is None, used.kind))
    return StickPlan(
        section=section_of(sticks[0]),
        bars=tuple(_bar(stock[used.kind], used.block, waiting, kerf) for used in ordered),
        too_long=(*long, *left),
        kerf=kerf,
        bound=found.sheets_bound,
        length_bound=found.cost_bound,
        method=found.method,
        limit=limit,
        seconds=monotonic() - began,
    )


def _bar(stock: Length, block: Block, waiting: list[list[Stick]], kerf: float) -> Bar:
    """The longest first, from the bar's start."""
    sticks = sorted((waiting[number].pop(0) for number in block.held), key=lambda stick: -stick.length)
    cut, x = [], 0.0
    for stick in sticks:
        cut.append(CutStick(stick=stick, x=x))
        x += blank_side(stick.length, kerf) / TENTHS
    return Bar(label="", stock=stock, cut=tuple(cut), rest=max(stock.length - x, 0.0))


def sections_of(sticks: tuple[Stick, ...]) -> Iterator[tuple[Stick, ...]]:
    """Sticks of one section together, in the order in which they are met."""
    found: dict[tuple[float, float], list[Stick]] = {}
    for stick in sticks:
        found.setdefault(section_of(stick), []).append(stick)
    return (tuple(group) for group in found.values())


def numbered(plans: tuple[StickPlan, ...]) -> tuple[StickPlan, ...]:
    """With bars numbered through."""
    number, done = 0, []
    for plan in plans:
        named: list[Bar] = []
        for bar in plan.bars:
            number += 1
            named.append(replace(bar, label=f"Bar {number}"))
        done.append(replace(plan, bars=tuple(named)))
    return tuple(done)
