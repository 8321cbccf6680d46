"""Drawings of random boxes, sloped and divided: nothing runs off, lies on other lettering or is left out."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from typing import Literal

import pytest
from hypothesis import HealthCheck, given, settings

from built import built, random_kits
from sordino.build.kit import Kit
from sordino.report.drawing.boards import board_sheets
from sordino.report.drawing.exploded import exploded, grown
from sordino.report.drawing.measures import level, standing
from sordino.report.drawing.records import Area, Sheet, Text, meet
from sordino.report.drawing.views import views

System = Literal["metric", "inch"]
ROOMS: dict[System, tuple[float, float]] = {"metric": (180.0, 237.0), "inch": (185.9, 219.0)}


def faults(sheet: Sheet, room: tuple[float, float]) -> list[str]:
    found = []
    if sheet.width > room[0] + 0.1 or sheet.height > room[1] + 0.1:
        found.append(f"{sheet.width:.0f} x {sheet.height:.0f} mm")
    for text in sheet.texts:
        left, upper, right, lower = text.box
        if min(left, upper) < -0.05 or right > sheet.width + 0.05 or lower > sheet.height + 0.05:
            found.append(f"{text.text} runs off")
    found += [f"{a.text} on {b.text}" for a, b in combinations(sheet.texts, 2) if meet(a.box, b.box)]
    return found


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(random_kits())
def test_drawings_of_random_boxes_are_clear(kit: Kit) -> None:
    for units, room in ROOMS.items():
        sheets = (views(kit, room, units), *board_sheets(kit.parts, room, "boards", units))
        assert not [fault for sheet in sheets for fault in faults(sheet, room)]
        words = Counter(text.text for sheet in sheets[1:] for text in sheet.texts if text.bold)
        assert all(words[part.label] == 1 for part in kit.parts)
    apart = exploded(kit, (180.0, 190.0))
    assert not faults(apart, (180.0, 190.0))
    assert Counter(text.text for text in apart.texts) == Counter(piece.label for piece in kit.pieces)


def test_what_a_step_adds_is_darker_than_what_stands() -> None:
    kit = built("labyrinth")
    pieces = [placed.piece for placed in kit.order]
    first, second = pieces[:1], pieces[1:2]
    fills = {area.fill for area in grown(kit, first, second, (50.0, 40.0)).items if isinstance(area, Area)}
    alone = {area.fill for area in grown(kit, (), second, (50.0, 40.0)).items if isinstance(area, Area)}
    assert alone < fills


@pytest.mark.parametrize("long", [5.0, 40.0])
def test_a_figure_too_long_for_its_line_stands_beyond_it(long: float) -> None:
    (across,) = [item for item in level((10.0, 5.0), (10.0 + long, 5.0), 12.0, "1236 mm") if isinstance(item, Text)]
    (up,) = [item for item in standing((5.0, 60.0), (5.0, 60.0 - long), 3.0, "1236 mm") if isinstance(item, Text)]
    inside = long > across.length
    assert (10.0 <= across.box[0] and across.box[2] <= 10.0 + long) == inside
    assert (60.0 - long <= up.box[1] and up.box[3] <= 60.0) == inside
    assert across.box[0] > 10.0 + long or inside
    assert up.box[3] < 60.0 - long or inside
