"""More pieces of views: what helps against a finding, a session, the ledger."""

from __future__ import annotations

from typing import Any

import jinja2
from starlette.requests import Request
from starlette.routing import Route

from sordino.report import text
from sordino.web.solved.work import Looked
from sordino.web.views import drawn
from sordino.web.views.page import NoView, Page
from sordino.web.views.piece import endpoint


def looked_at(page: Page, request: Request, kind: str) -> tuple[Looked, str]:
    """The project as it is now, and the thing that a piece is about."""
    if page.desk.empty:
        raise NoView
    looked, key = page.looked(), str(request.path_params["key"])
    if key not in getattr(looked.plan, kind) and key not in looked.plan.space:
        raise NoView(key)
    return looked, key


def sent_along(page: Page, request: Request) -> dict[str, Any]:
    """What forms in a piece send along."""
    names = request.query_params
    return {"number": page.desk.number, "tab": names.get("tab", ""), "back": names.get("back", "/")}


class More:
    """Their addresses and what they hold."""

    def __init__(self, page: Page, templates: jinja2.Environment) -> None:
        self.page, self.templates = page, templates

    def routes(self) -> list[Route]:
        """Where they are."""
        made = {
            "/part/cures/{key}": self._cures,
            "/part/session/{key}": self._session,
            "/part/ledger/{key}": self._ledger,
        }
        return [Route(at, endpoint(self.templates, making)) for at, making in made.items()]

    def _cures(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, name = self.page.looked(), str(request.path_params["key"])
        cures = self.page.chest.cures(looked, name)
        if cures is None:
            raise NoView(name)
        return "part_cures.html", {"cures": cures, "name": name} | sent_along(self.page, request)

    def _session(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = looked_at(self.page, request, "room")
        mode = request.query_params.get("mode", "")
        if mode not in looked.found.indoors.sessions or key not in looked.plan.room:
            raise NoView(key)
        narrow = request.cookies.get("narrow") == "1"
        return "part_picture.html", {"picture": drawn.session(looked.found, key, mode, narrow), "label": "Session"}

    def _ledger(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = looked_at(self.page, request, "room")
        mode = request.query_params.get("mode", "")
        modes = (mode,) if mode in looked.plan.mode else tuple(looked.plan.mode)
        return "part_text.html", {"text": text.schedule(looked.found, key, modes)}
