"""Parts of one run that would be called alike, told apart by a number."""

from __future__ import annotations

from collections import Counter

from sordino.elements.element import Element
from sordino.plan.statement import Plan


def numbered(plan: Plan) -> Plan:
    """The plan with a number after the name of each part that shares its label with another of its run."""
    runs = {
        name: run.model_copy(update={"parts": _told_apart(run.parts)}) if _alike(run.parts) else run
        for name, run in plan.run.items()
    }
    return plan.model_copy(update={"run": runs})


def _alike(parts: tuple[Element, ...]) -> set[str]:
    counted = Counter(part.label() for part in parts)
    return {label for label, times in counted.items() if times > 1}


def _told_apart(parts: tuple[Element, ...]) -> tuple[Element, ...]:
    alike, seen, told = _alike(parts), Counter[str](), []
    for part in parts:
        label = part.label()
        seen[label] += 1
        number = f"{part.name or ''} {seen[label]}".strip()
        told.append(part.model_copy(update={"name": number}) if label in alike else part)
    return tuple(told)
