"""What a test gave as plain values for machines."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from sordino import __version__
from sordino.bands import OCTAVES
from sordino.measure.result import Measurement, Row, Single
from sordino.physics.signal.background import AT_LEAST, AT_MOST, Reading
from sordino.physics.signal.thirds import NOMINAL
from sordino.plan.statement import Plan
from sordino.report.measured import CAUTION, LEGEND

Record = dict[str, Any]
KINDS = {AT_MOST: "at most", AT_LEAST: "at least"}


def measured_record(plan: Plan, found: Measurement, variant: str | None = None) -> Record:
    """Everything that was worked out."""
    return {
        "program": {"name": "sordino", "version": __version__},
        "title": plan.title,
        "variant": variant,
        "test": found.name,
        "kind": found.kind,
        "octaves_hz": OCTAVES,
        "thirds_hz": NOMINAL,
        "answer": found.answer,
        "flags": found.flags,
        "rows": [_row(row) for row in found.rows],
        "figures": [_single(one) for one in found.singles],
        "causes": [asdict(cause) for cause in found.causes],
        "line_for_the_project_file": None
        if found.paste is None
        else dict(zip(("table", "line"), found.paste, strict=True)),
        "missed": found.missed,
        "legend": LEGEND,
        "caution": CAUTION,
    }


def _row(row: Row) -> Record:
    unit = "s" if row.sign == "time" else "dB"
    said = row.predicted
    return {
        "label": row.label,
        "unit": unit,
        "octaves": _reading(row.levels.octaves),
        "thirds": _reading(row.levels.thirds),
        "predicted": None if said is None else {"value": said.level, "low": said.low, "high": said.high},
    }


def _reading(one: Reading) -> Record:
    known = [None if level != level else KINDS.get(int(bound), "value") for level, bound in _pairs(one)]
    return {"value": one.level, "low": one.low, "high": one.high, "kind": known}


def _pairs(one: Reading) -> list[tuple[float, int]]:
    return list(zip(one.level.tolist(), one.bound.tolist(), strict=True))


def _single(one: Single) -> Record:
    said = None if one.predicted is None else dict(zip(("value", "low", "high"), one.predicted, strict=True))
    return {
        "label": one.label,
        "unit": one.unit,
        "value": one.value,
        "low": one.low,
        "high": one.high,
        "kind": one.bound or "value",
        "predicted": said,
    }
