"""Changes that would help, worked out and then tried on the project itself, where they can be undone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sordino.assess.assessment import Assessment
from sordino.assess.box_answer import standing
from sordino.elements.box_layout import Clash
from sordino.errors import Refusal
from sordino.plan.lines import Path
from sordino.search.box_changes import candidates
from sordino.search.box_compared import rebuilt
from sordino.search.changes import Change, changes
from sordino.search.remedies import Remedies, remedies, worst_sounds
from sordino.web import edit
from sordino.web.page import NoView, Page
from sordino.web.values import Insert, box_values, new_boxes, plan_values
from sordino.web.work import Looked


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomHelp:
    """What was tried for a room, and which of it can be written into the project as one change."""

    found: Remedies
    words: tuple[str, ...]
    """Of the changes that can be tried."""


def room_help(looked: Looked, key: str, mode: str) -> RoomHelp:
    """What helps a room's noise in a mode, each figure computed."""
    if (key, mode) not in looked.found.noise:
        raise NoView(key)
    found = remedies(looked.found, key, mode)
    can = {change.words for change in room_changes(looked.found, key, mode)}
    return RoomHelp(found=found, words=tuple(each.words for each in found.best if each.words in can))


def room_changes(found: Assessment, key: str, mode: str) -> Iterator[Change]:
    """The single changes against the worst sounds of a room."""
    for sound in worst_sounds(found.noise[key, mode]):
        yield from changes(found.plan, key, mode, sound)


def tried(page: Page, form: Mapping[str, str]) -> tuple[str, str]:
    """The project with a change made to it, and what it is called; a Refusal if it can't be."""
    looked, words = page.looked(), form.get("words", "")
    if form.get("box"):
        return _box_tried(page.desk.text, looked, form["box"], words), f"{form['box']}: {words}"
    key, mode = form.get("room", ""), form.get("mode", "")
    if (key, mode) not in looked.found.noise:
        raise Refusal("there is no such room", "load the page again")
    change = next((each for each in room_changes(looked.found, key, mode) if each.words == words), None)
    if change is None:
        raise Refusal("the project has changed, and this change with it", "ask again what would help")
    return _room_tried(page.desk.text, looked, change), words


def _box_tried(text: str, looked: Looked, key: str, words: str) -> str:
    if key not in looked.plan.box:
        raise Refusal("there is no such box", "load the page again")
    built, units = standing(looked.plan, key).built, looked.plan.units
    change = dict(candidates(built.build, units)).get(words)
    if change is None:
        raise Refusal("this change does not suit the box any more", "ask again what would help")
    try:
        box = change(built.build, built.layout)
        assert rebuilt(built, box).layout.length > 0.0, "a layout has a length"
    except Clash as clash:
        raise Refusal(*clash.shown(units)) from None
    return edit.with_values(text, box_values(key, built.build, box, units))


def _room_tried(text: str, looked: Looked, change: Change) -> str:
    before, data = looked.found.plan, looked.source.data
    after = change.edit(before)
    for each in plan_values(before, after, data):
        text = edit.inserted(text, each.path, each.value) if isinstance(each, Insert) else _put(text, *each)
    for key, table in new_boxes(before, after).items():
        text = edit.appended(text, ("box", key), table)
    return text


def _put(text: str, path: Path, value: Any) -> str:
    return edit.without(text, path) if value is None else edit.with_value(text, path, value)
