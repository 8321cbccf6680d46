"""Which sheets and bars there are: those the project states, and the usual ones of its region for the rest."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.build.cutting.records import Length, Sheet
from sordino.build.words import long
from sordino.plan.building import Building
from sordino.tables import table
from sordino.units import System

MM = 1e3
SAME = 0.05
"""Thicknesses that differ by less are one, mm."""


def sheets_for(board: str, thickness: float, building: Building, units: System) -> tuple[Sheet, ...]:
    """Kinds of sheet of a board and thickness, mm: what is on hand first, then sizes of the shop, the largest first.

    Where the project names no size of the shop for the board, the region's usual sizes stand in.
    """
    stated = tuple(_stated(board, thickness, building, units))
    shop = tuple(sheet for sheet in stated if not sheet.owned) or tuple(_usual(board, thickness, units))
    owned = tuple(sheet for sheet in stated if sheet.owned)
    return (*owned, *sorted(shop, key=lambda sheet: -sheet.area))


def _stated(board: str, thickness: float, building: Building, units: System) -> Iterator[Sheet]:
    for one in building.stock:
        if one.board == board and (one.thickness is None or abs(MM * one.thickness - thickness) <= SAME):
            yield _sheet(board, thickness, (MM * one.length, MM * one.width), one.count, units)


def _usual(board: str, thickness: float, units: System) -> Iterator[Sheet]:
    known = table("build/sheet")
    for name, region, length, width in known.rows:
        if name == board and region == units:
            yield _sheet(board, thickness, (float(length), float(width)), None, units)


def _sheet(board: str, thickness: float, sides: tuple[float, float], count: int | None, units: System) -> Sheet:
    length, width = sides
    name = f"{board} {long(thickness, units)}, {_sides(length, width, units)}"
    return Sheet(name=name, board=board, thickness=thickness, length=length, width=width, count=count)


def lengths_for(section: tuple[float, float], building: Building, units: System) -> tuple[Length, ...]:
    """Kinds of bar of a section, mm, in the same order."""
    stated = tuple(
        _length(section, MM * one.length, one.count, units)
        for one in building.bars
        if one.section is None or all(abs(MM * one.section - side) <= SAME for side in section)
    )
    usual = (_length(section, float(row[1]), None, units) for row in table("build/bar").rows if row[0] == units)
    shop = tuple(one for one in stated if not one.owned) or tuple(usual)
    return (*(one for one in stated if one.owned), *sorted(shop, key=lambda one: -one.length))


def _length(section: tuple[float, float], length: float, count: int | None, units: System) -> Length:
    short, wide = section
    told = f"{length:.10g} mm" if units == "metric" else long(length, units)
    name = f"stick {_sides(short, wide, units)}, {told}"
    return Length(name=name, section=section, length=length, count=count)


def _sides(one: float, other: float, units: System) -> str:
    """As a merchant writes them: to the millimetre, or in inches."""
    if units == "metric":
        return f"{round(one, 1):.10g} x {round(other, 1):.10g} mm"
    return f"{long(one, units)} x {long(other, units)}"
