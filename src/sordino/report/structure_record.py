"""Weight, hanging, lifting and fit as plain values for machines."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from sordino.assess.structure import Structure
from sordino.assess.weight import PLANNING
from sordino.search.gains import Gains


def structure_record(found: Structure) -> dict[str, Any]:
    """Masses in kg, lengths in m, forces in N, frequencies in Hz, shares of one."""
    return {
        "weights": [
            {
                "of": weight.key,
                "whole_kg": weight.whole,
                "outside_m": weight.outside,
                "centre_m": weight.centre,
                "pieces": [asdict(piece) for piece in weight.pieces],
            }
            for weight in found.weights.values()
        ],
        "hangs": [asdict(hang) | {"load": hang.load} for hang in found.hangs],
        "joists": [asdict(bearing) for bearing in found.bearings],
        "lifted": [asdict(each) for each in found.lifted],
        "fits": [asdict(each) for each in found.fits],
        "passages": [asdict(each) for each in found.passages],
        "ties": [asdict(each) for each in found.joints],
        "caution": PLANNING,
    }


def gains_record(found: Gains) -> dict[str, Any]:
    """What would help one finding; figures in its unit."""
    return {
        "subject": found.finding.subject,
        "question": found.finding.question,
        "mode": found.finding.mode or None,
        "unit": found.finding.unit,
        "changes_tried": found.tried,
        "best": [
            {
                "change": gain.words,
                "figure_before": gain.before,
                "figure_after": gain.after,
                "limit": gain.limit,
                "within_limit": gain.meets,
            }
            for gain in found.best
        ],
    }
