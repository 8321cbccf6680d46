"""The cut plan of a whole project."""

from __future__ import annotations

from sordino.build.cutting.bars import numbered, section_of, sections_of, stick_plan
from sordino.build.cutting.boards import board_plan, groups_of, labelled
from sordino.build.cutting.records import Cutting
from sordino.build.cutting.shop import lengths_for, sheets_for
from sordino.build.kit import Kit
from sordino.plan.building import Building
from sordino.units import System

MM = 1e3


def cutting(kits: tuple[Kit, ...], building: Building, units: System, limit: float | None = None) -> Cutting:
    """All boards of all boxes on sheets and all sticks on bars.

    Each board and thickness, and each section of stick, is searched for `limit` seconds at most, by default the
    project's; most need a fraction of one.
    """
    seconds = building.seconds if limit is None else limit
    saw = MM * building.kerf, MM * building.trim
    parts = tuple(part for kit in kits for part in kit.parts)
    sticks = tuple(stick for kit in kits for stick in kit.sticks)
    plans = (
        board_plan(
            group,
            sheets_for(group[0].board, group[0].thickness, building, units),
            saw,
            MM * building.keep,
            building.grain,
            seconds,
        )
        for group in groups_of(parts)
    )
    bars = (
        stick_plan(group, lengths_for(section_of(group[0]), building, units), saw[0], seconds)
        for group in sections_of(sticks)
    )
    return Cutting(plans=labelled(tuple(plans)), sticks=numbered(tuple(bars)))
