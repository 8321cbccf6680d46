"""A project file as a checked and fitted plan."""

from __future__ import annotations

from pathlib import Path

from sordino.plan.checks import complaints
from sordino.plan.fitting import fitted
from sordino.plan.numbering import numbered
from sordino.plan.reading import Document, document, validate, variants
from sordino.plan.statement import Plan

__all__ = ["Document", "document", "plan_of", "read", "variants"]


def plan_of(source: Document, variant: str | None = None) -> Plan:
    """The plan that a document states, or one of its variants; raises PlanError with every mistake."""
    return numbered(fitted(validate(source, Plan, variant, complaints)))


def read(path: str | Path, variant: str | None = None) -> Plan:
    """Read a project file; raises PlanError with every mistake."""
    return plan_of(document(path), variant)
