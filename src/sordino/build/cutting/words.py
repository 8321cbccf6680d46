"""What is said beside every cut plan: what is used, and the least that can be proven."""

from __future__ import annotations

from sordino.build.cutting.records import CutPlan, StickPlan
from sordino.units import System, show


def sheets_standing(plan: CutPlan, units: System) -> str:
    """As `5 sheets; at least 5 needed: proven least`, or with areas where sizes differ or some are on hand."""
    one_size = len({layout.sheet for layout in plan.layouts}) <= 1 and plan.bought == plan.sheets
    if one_size and plan.sheets and plan.bound * plan.layouts[0].sheet.area >= 1e6 * plan.area_bound - 1.0:
        used = _counted(plan.sheets, "sheet")
        return f"{used}; at least {plan.bound} needed: {_verdict(plan.sheets == plan.bound)}"
    area, least = (show(each, "area", units) for each in (plan.area_bought, plan.area_bound))
    return f"{_counted(plan.sheets, 'sheet')}, {area} of it to buy; at least {least} needed: {_verdict(plan.proven)}"


def bars_standing(plan: StickPlan, units: System) -> str:
    """The same for bars."""
    one_length = len({bar.stock for bar in plan.bars}) <= 1 and plan.bought == len(plan.bars)
    if one_length and plan.bars and plan.bound * plan.bars[0].stock.length >= plan.length_bound - 1.0:
        used = _counted(len(plan.bars), "bar")
        return f"{used}; at least {plan.bound} needed: {_verdict(len(plan.bars) == plan.bound)}"
    whole, least = (show(each / 1e3, "length", units) for each in (plan.length_bought, plan.length_bound))
    return f"{_counted(len(plan.bars), 'bar')}, {whole} of it to buy; at least {least} needed: {_verdict(plan.proven)}"


def _verdict(proven: bool) -> str:
    return "proven least" if proven else "a better cutting may or may not exist"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
