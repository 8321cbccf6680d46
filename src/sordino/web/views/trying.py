"""Changes that are tried on the project itself, where they can be undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sordino.assess.box_answer import standing
from sordino.elements.box_layout import Clash
from sordino.errors import Refusal
from sordino.search.box_changes import candidates
from sordino.search.box_compared import rebuilt
from sordino.web.project import edit
from sordino.web.project.values import box_values
from sordino.web.solved.work import Looked
from sordino.web.views.page import Page


@dataclass(frozen=True, kw_only=True, slots=True)
class Tried:
    """The project's text with a change, what the change is called, and the finding it is against."""

    text: str
    words: str
    name: str = ""


def tried(page: Page, form: Mapping[str, str]) -> Tried:
    """The project with a change made to it; a Refusal if it can't be."""
    looked, words = page.looked(), form.get("words", "")
    if form.get("box"):
        return Tried(text=_box_tried(page.desk.text, looked, form["box"], words), words=f"{form['box']}: {words}")
    name = form.get("finding", "")
    cures = page.chest.cures(looked, name)
    mine = None if cures is None else next((each for each in cures.found if each.way.words == words), None)
    if mine is None or mine.text is None:
        raise Refusal("the project has changed, and this change with it", "ask again what would help")
    return Tried(text=mine.text, words=mine.way.change, name=name)


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
    return edit.with_values(text, box_values(key, built.build, box, looked.source.data, units))
