"""The plan at a glance for a narrow screen: rooms, then every way of the air from its start to its end."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.assessment import Assessment
from sordino.web.pictures import marks
from sordino.web.pictures.cards import (
    AROUND,
    Card,
    around,
    box_cards,
    drawn,
    height,
    junction_card,
    mover_card,
    room_card,
    run_card,
    space_card,
    worst_first,
)
from sordino.web.pictures.words import wrapped

HALF, GAP, INDENT = (marks.NARROW - 10.0) / 2.0, 10.0, 26.0


def schematic_list(found: Assessment, chosen: str) -> tuple[list[str], float]:
    """Marks and the height they take."""
    plan = found.plan
    cards = worst_first([room_card(found, key) for key in plan.room])
    cards += [mover_card(found, key) for key in plan.mover]
    parts, y = _pairs(cards, chosen)
    for key in plan.run:
        drawn_run, y = _run(found, key, y, chosen)
        parts += drawn_run
    junctions, y = _pairs([junction_card(found, key) for key in plan.junction], chosen, y)
    outer, bottom = _around(found, chosen, y)
    return [*parts, *junctions, *outer], bottom


def _around(found: Assessment, chosen: str, top: float) -> tuple[list[str], float]:
    """What the runs lie in, and who hears them."""
    cards = [space_card(found, key) for key in around(found.plan)]
    if not cards:
        return [], top
    parts, y = _pairs(cards, chosen, top + 22.0)
    return [marks.text((0.0, top + 12.0), AROUND, class_="strong"), *parts], y


def _pairs(cards: list[Card], chosen: str, top: float = 4.0) -> tuple[list[str], float]:
    """Cards two and two."""
    parts: list[str] = []
    for at in range(0, len(cards), 2):
        row = cards[at : at + 2]
        parts += [drawn(card, index * (HALF + 10.0), top, HALF, card.key == chosen) for index, card in enumerate(row)]
        top += max(height(card, HALF) for card in row) + GAP
    return parts, top


def _run(found: Assessment, key: str, top: float, chosen: str) -> tuple[list[str], float]:
    """A way of the air: where from, the run with its boxes, where to."""
    run, wide = found.plan.run[key], marks.NARROW - INDENT
    parts, y = [*_end("from", _name(found, run.start), top + 14.0)], top + 22.0
    begin = y
    for card in (run_card(found, key), *box_cards(found, key)):
        parts.append(drawn(card, INDENT, y, wide, card.key == chosen))
        y += height(card, wide)
    x = INDENT / 2.0 - 3.0
    way = ((x, begin - 4.0), (x, y + 4.0))
    parts.append(marks.line(way, class_="air"))
    parts.append(marks.area(((x, y + 8.0), (x - 4.5, y), (x + 4.5, y)), class_="air-tip"))
    parts += _end("to", _name(found, run.end), y + 18.0)
    return parts, y + 26.0 + GAP


def _name(found: Assessment, end: str) -> str:
    place, _, port = end.partition(".")
    name = place if place in found.plan.junction else found.plan.place_name(place)
    return f"{name}, {port}" if port else name


def _end(word: str, name: str, y: float) -> Iterator[str]:
    yield marks.text((INDENT, y), wrapped(f"{word} {name}", marks.NARROW - INDENT, most=1)[0], class_="soft")
