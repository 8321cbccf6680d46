"""Filters, clean and dirty."""

from __future__ import annotations

from typing import Any

import pytest

from elements.made import made, refusal
from sordino.physics.air.properties import STANDARD

FPM = 0.00508


def test_a_pleated_panel_at_its_rated_point() -> None:
    """2 in MERV 11: 0.10 in w.g. at 240 ft/min (a filter bulletin of 2018, read)."""
    panel = made("filter", size="400 x 300 mm", depth="2 in", merv=11)
    assert panel.pressure_loss(240 * FPM * 0.12, STANDARD) == pytest.approx(0.10 * 249.089, rel=0.001)


def test_a_finer_grade_costs_more() -> None:
    """MERV 13 against 11, and one inch against four, at one face speed."""
    drops = {
        (depth, merv): made("filter", size="400 x 300 mm", depth=depth, merv=merv).pressure_loss(0.12, STANDARD)
        for depth in ("1 in", "4 in")
        for merv in (11, 13)
    }
    assert drops["1 in", 13] > drops["1 in", 11] > drops["4 in", 11]
    assert drops["4 in", 13] > drops["4 in", 11]


def test_the_makers_figure_by_the_face_it_was_stated_for() -> None:
    """25 Pa at 1.5 m/s holds on the face, whatever the duct; between clean and due for change by soiling."""
    fields: dict[str, Any] = {"face": "500 x 400 mm", "drop": "25 Pa", "at": "1.5 m/s", "dirty": 2.4}
    clean, half, dirty = (made("filter", soiling=soiling, **fields) for soiling in ("0 %", "50 %", "100 %"))
    losses = [part.pressure_loss(1.5 * 0.2, STANDARD) for part in (clean, half, dirty)]
    assert losses == pytest.approx([25.0, 25.0 * 1.7, 25.0 * 2.4])
    assert clean.velocities(0.3) == {"filter face": pytest.approx(1.5)}


def test_media_cost_by_less_than_the_square() -> None:
    """Exponent 1.35, of 1.2 to 1.5 in common practice (no source)."""
    part = made("filter", drop="30 Pa", at="2 m/s")
    ratio = part.pressure_loss(0.08, STANDARD) / part.pressure_loss(0.04, STANDARD)
    assert ratio == pytest.approx(2.0**1.35)


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"depth": "2 in"},
        {"drop": "20 Pa"},
        {"depth": "2 in", "merv": 8},
        {"drop": "20 Pa", "at": 2},
        {"drop": "20 Pa", "at": "0 m/s"},
    ],
)
def test_what_no_filter_is(fields: dict[str, object]) -> None:
    """Nothing to go by, half a figure, a grade without a rated point, a bare number."""
    assert refusal("filter", **fields)
