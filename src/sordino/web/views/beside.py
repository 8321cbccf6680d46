"""Pieces that set things side by side: variants of the project, and the usual changes to a box.

What they need solved is solved in a process of its own first, with progress and an end at any time.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

import jinja2
from starlette.requests import Request
from starlette.routing import Route

from sordino.assess.box_answer import indoor_air, standing
from sordino.bands import CENTRES
from sordino.elements.box_field import LIVE
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed, variants
from sordino.report import layout
from sordino.report.comparison import comparison_text
from sordino.report.phrases import count
from sordino.search.comparison import AS_WRITTEN, Column, compared
from sordino.web.solved.ahead import Wanted, unsolved, unsolved_changes, usual_changes
from sordino.web.solved.jobs import Job, solved
from sordino.web.views import drawn
from sordino.web.views.box_table import grouped_changes, weakest_band
from sordino.web.views.more import looked_at, sent_along
from sordino.web.views.page import NoView, Page
from sordino.web.views.piece import Making, Piece, endpoint
from sordino.web.views.side_by_side import side_by_side

BANDS = range(1, CENTRES.size)
SAVED = "as saved"


class Beside:
    """Their addresses and what they hold."""

    def __init__(self, page: Page, templates: jinja2.Environment) -> None:
        self.page, self.templates = page, templates

    def routes(self) -> list[Route]:
        """Where they are."""
        made = {"/part/changes/{key}": self._changes, "/part/compare": self._compare}
        asked = [Route(at, endpoint(self.templates, self._or_under_way(making))) for at, making in made.items()]
        return [*asked, *(Route(at, endpoint(self.templates, self._ended), methods=["POST"]) for at in made)]

    def _or_under_way(self, making: Making) -> Making:
        return lambda request: self._under_way(request) or making(request)

    def _under_way(self, request: Request) -> Piece | None:
        """How far the work for this very piece is; None if it is asked for anew, or done."""
        jobs, going = self.page.jobs, "going" in request.query_params
        if jobs.ahead is None or jobs.ahead_of != self._key(request):
            return self._left(request) if going else None
        running, done = jobs.ahead.stand == "running", jobs.ahead.stand == "done"
        return self._going(request, jobs.ahead) if running or (going and not done) else None

    def _left(self, request: Request) -> Piece:
        """Who waits for what nobody solves any more: what is solved for an older state of the project is ended."""
        jobs = self.page.jobs
        if jobs.ahead is not None and jobs.ahead_of.startswith(f"{_at(request)} "):
            jobs.ahead.cancel()
        return self._going(request, None)

    def _changes(self, request: Request) -> Piece:
        looked, key = looked_at(self.page, request, "box")
        if waiting := unsolved_changes(looked.plan, key):
            wanted = Wanted(text=self.page.desk.text, name=self.page.desk.name, boxes=(key,), size=LIVE, changes=True)
            if (job := self._ahead(request, f"the usual changes to {key}", (wanted,), waiting)) is not None:
                return self._going(request, job)
        weakest = weakest_band(standing(looked.found.plan, key).built, indoor_air(looked.plan))
        groups = grouped_changes(usual_changes(looked.plan, key), weakest)
        context = {"groups": groups, "heads": layout.BAND_NAMES[1:], "key": key, "weakest": weakest - BANDS.start}
        return "part_changes.html", context | sent_along(self.page, request)

    def _compare(self, request: Request) -> Piece:
        if self.page.desk.empty:
            raise NoView
        texts = self._chosen(request)
        if len(texts) < 2:
            return "part_refused.html", {"words": "Choose what to set beside the project as it is now."}
        name = self.page.desk.name
        plans = {key: plan_of(parsed(text, name), variant) for key, (text, variant) in texts.items()}
        waiting = {key: boxes for key, plan in plans.items() if (boxes := unsolved(plan, LIVE))}
        if waiting:
            wanted = [
                Wanted(text=texts[key][0], name=name, boxes=boxes, size=LIVE, variant=texts[key][1])
                for key, boxes in waiting.items()
            ]
            total = sum(map(len, waiting.values()))
            words = f"the sound fields of {count(total, 'box', 'boxes')}"
            if (job := self._ahead(request, words, wanted, total)) is not None:
                return self._going(request, job)
        return "part_compare.html", _table(compared(plans)) | sent_along(self.page, request) | {"back": "/compare"}

    def _chosen(self, request: Request) -> dict[str, tuple[str, str | None]]:
        """Text and variant of each column by its name, the project as it is now first."""
        desk, asked = self.page.desk, request.query_params
        known = variants(self.page.looked().source)
        found: dict[str, tuple[str, str | None]] = {AS_WRITTEN: (desk.text, None)}
        if asked.get("saved") and desk.unsaved and desk.saved:
            found[SAVED] = (desk.saved, None)
        return found | {name: (desk.text, name) for name in asked.getlist("with") if name in known}

    def _ahead(self, request: Request, words: str, wanted: Sequence[Wanted], total: int) -> Job | None:
        """What solves for a piece from now on; None if that has been done."""
        jobs, key = self.page.jobs, self._key(request)
        if jobs.ahead is not None and jobs.ahead_of == key and jobs.ahead.stand == "done":
            return None
        return jobs.go_ahead(key, lambda: solved(words, wanted, total))

    def _key(self, request: Request) -> str:
        """The piece as it is asked for, and the project that it is of."""
        return f"{_at(request)} {self.page.desk.text}"

    def _going(self, request: Request, job: Job | None) -> Piece:
        target = "#compared" if request.url.path == "/part/compare" else "#help"
        at, next_at = _at(request), _at(request, ("going", "1"))
        return "part_ahead.html", {"job": job, "at": at, "next_at": next_at, "target": target}

    def _ended(self, request: Request) -> Piece:
        """End what solves for a piece."""
        jobs = self.page.jobs
        if jobs.ahead is not None and jobs.ahead_of == self._key(request):
            jobs.ahead.cancel()
        return self._going(request, jobs.ahead)


def _at(request: Request, *more: tuple[str, str]) -> str:
    """The address of a piece, as it was asked for first, with what is to be told beside that."""
    pairs = [pair for pair in request.query_params.multi_items() if pair[0] != "going"]
    return f"{request.url.path}?{urlencode([*pairs, *more])}"


def _table(columns: tuple[Column, ...]) -> dict[str, Any]:
    found = [column.assessment for column in columns]
    modes = tuple(dict.fromkeys(mode for each in found for mode in each.plan.mode))
    places = tuple(dict.fromkeys(place for each in found for place, _ in each.noise))
    return {
        "told": side_by_side(columns),
        "text": comparison_text(columns, modes, places),
        "sign": drawn.sign,
        "taken": (AS_WRITTEN, SAVED),
    }
