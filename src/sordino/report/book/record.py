"""The book as plain values for machines: millimetres, kilograms."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from sordino.build.cutting.records import CutPlan, Cutting, Layout, StickPlan
from sordino.build.kit import Kit
from sordino.build.lists import Cost, Quantities
from sordino.build.part import Part, Stick
from sordino.build.steps import Step

Record = dict[str, Any]


def part_record(part: Part) -> Record:
    """One board."""
    return {
        "label": part.label,
        "kind": part.kind,
        "face": part.face,
        "layer": part.level + 1,
        "board": part.board,
        "thickness_mm": part.thickness,
        "size_mm": part.size,
        "outline_mm": part.outline,
        "edges": [{"meets": edge.meets, "bevel_deg": edge.bevel} for edge in part.edges],
        "holes": [
            {
                "mouth": hole.label,
                "centre_mm": hole.centre,
                "diameter_mm": hole.diameter,
                "sides_mm": hole.sides,
                **({} if hole.axes is None else {"axes_mm": hole.axes}),
            }
            for hole in part.holes
        ],
        "grain": part.grain,
        "mass_kg": part.mass,
        "damping_under_it": part.damped,
    }


def stick_record(stick: Stick) -> Record:
    """One stick."""
    return {
        "label": stick.label,
        "use": stick.use,
        "joins": stick.joins,
        "section_mm": stick.section,
        "length_mm": stick.length,
    }


def kit_record(kit: Kit, steps: tuple[Step, ...]) -> Record:
    """One box with its order of work."""
    return {
        "box": kit.name,
        "run": kit.run,
        "closed_by": kit.closing.face,
        "boards": [part_record(part) for part in kit.parts],
        "sticks": [stick_record(stick) for stick in kit.sticks],
        "steps": [asdict(step) for step in steps],
    }


def cutting_record(found: Cutting) -> Record:
    """Sheets and bars."""
    return {"boards": [_plan(plan) for plan in found.plans], "sticks": [_sticks(plan) for plan in found.sticks]}


def _plan(plan: CutPlan) -> Record:
    return {
        "board": plan.board,
        "thickness_mm": plan.thickness,
        "sheets_used": plan.sheets,
        "sheets_lower_bound": plan.bound,
        "sheets_bought": plan.bought,
        "area_bought_m2": plan.area_bought,
        "area_lower_bound_m2": plan.area_bound,
        "proven": plan.proven,
        "method": plan.method,
        "seconds_allowed": plan.limit,
        "seconds_used": plan.seconds,
        "kerf_mm": plan.kerf,
        "trim_mm": plan.trim,
        "too_large": [part.label for part in plan.too_large],
        "sheets": [_layout(layout) for layout in plan.layouts],
    }


def _layout(layout: Layout) -> Record:
    return {
        "sheet": layout.label,
        "stock": layout.sheet.name,
        "size_mm": (layout.sheet.length, layout.sheet.width),
        "on_hand": layout.sheet.owned,
        "used_share": layout.used,
        "pieces": [
            {
                "label": one.label,
                "at_mm": (one.x, one.y),
                "size_mm": one.part.size,
                "turned": one.turned,
                "outline_mm": one.outline,
            }
            for one in layout.placed
        ],
        "cuts": [{"number": cut.number, "from_mm": cut.first, "to_mm": cut.last} for cut in layout.cuts],
        "offcuts": [
            {"at_mm": (rest.x, rest.y), "size_mm": (rest.length, rest.width), "worth_keeping": rest.kept}
            for rest in layout.offcuts
        ],
    }


def _sticks(plan: StickPlan) -> Record:
    return {
        "section_mm": plan.section,
        "bars_used": len(plan.bars),
        "bars_lower_bound": plan.bound,
        "bars_bought": plan.bought,
        "proven": plan.proven,
        "method": plan.method,
        "seconds_allowed": plan.limit,
        "seconds_used": plan.seconds,
        "kerf_mm": plan.kerf,
        "too_long": [stick.label for stick in plan.too_long],
        "bars": [
            {
                "bar": bar.label,
                "stock": bar.stock.name,
                "length_mm": bar.stock.length,
                "on_hand": bar.stock.owned,
                "pieces": [{"label": one.label, "at_mm": one.x, "length_mm": one.stick.length} for one in bar.cut],
                "left_over_mm": bar.rest,
            }
            for bar in plan.bars
        ],
    }


def shopping_record(quantities: Quantities, cost: Cost) -> Record:
    """What is bought and what it costs."""
    return {
        "lines": [
            asdict(line) | {"cost": asdict(line.cost), "price_is_invented": line.price.invented}
            for line in quantities.lines
        ],
        "fibre": [asdict(piece) for piece in quantities.fibre],
        "cost": asdict(cost),
        "overspend": None if cost.overspend is None else asdict(cost.overspend),
    }
