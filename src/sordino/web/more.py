"""More pieces of views: what helps, variants side by side, a session, the ledger, the text for a room."""

from __future__ import annotations

from typing import Any

import jinja2
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from sordino.bands import CENTRES
from sordino.errors import SordinoError
from sordino.plan.reading import variants
from sordino.report import layout, text
from sordino.report.comparison import comparison_text
from sordino.report.phrases import figure
from sordino.report.verdict import remedy_words
from sordino.search.comparison import comparison
from sordino.web import drawn
from sordino.web.page import NoView, Page
from sordino.web.trying import box_help, room_help
from sordino.web.work import Looked

BANDS = range(1, CENTRES.size)


class More:
    """Their addresses and what they hold."""

    def __init__(self, page: Page, templates: jinja2.Environment) -> None:
        self.page, self.templates = page, templates

    def routes(self) -> list[Route]:
        """Where they are."""
        made = {
            "/part/help/{key}": self._help,
            "/part/changes/{key}": self._changes,
            "/part/session/{key}": self._session,
            "/part/ledger/{key}": self._ledger,
            "/part/compare": self._compare,
        }
        return [Route(at, self._endpoint(making)) for at, making in made.items()]

    def _endpoint(self, making: Any) -> Any:
        async def endpoint(request: Request) -> Response:
            return await run_in_threadpool(self._rendered, making, request)

        return endpoint

    def _rendered(self, making: Any, request: Request) -> Response:
        try:
            name, context = making(request)
            return HTMLResponse(self.templates.get_template(name).render(context))
        except NoView:
            return HTMLResponse("<p>There is nothing of that name any more.</p>", 404)
        except SordinoError as error:
            return HTMLResponse(self.templates.get_template("part_refused.html").render(words=str(error)), 422)

    def _looked(self, request: Request, kind: str) -> tuple[Looked, str]:
        if self.page.desk.empty:
            raise NoView
        looked, key = self.page.looked(), str(request.path_params["key"])
        if key not in getattr(looked.plan, kind) and key not in looked.plan.space:
            raise NoView(key)
        return looked, key

    def _sent(self, request: Request) -> dict[str, Any]:
        """What forms in a piece send along."""
        names = request.query_params
        return {"number": self.page.desk.number, "tab": names.get("tab", ""), "back": names.get("back", "/")}

    def _help(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = self._looked(request, "room")
        mode = request.query_params.get("mode", "")
        help_ = room_help(looked, key, mode)
        heard = looked.found.noise[key, mode]
        rows = [
            {
                "words": each.words,
                "before": figure(heard.scale, each.before),
                "after": figure(heard.scale, each.after),
                "meets": each.meets,
                "can": each.words in help_.words,
            }
            for each in help_.found.told
        ]
        context = {"rows": rows, "said": remedy_words(looked.found, help_.found), "key": key, "mode": mode}
        return "part_help.html", context | self._sent(request)

    def _changes(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = self._looked(request, "box")
        rows = []
        for change in box_help(looked, key):
            bands = (
                [] if change.counted is None else [layout.whole(float(change.counted[at]), signed=True) for at in BANDS]
            )
            rows.append({"words": change.words, "bands": bands, "clash": change.clash, "pressure": change.pressure})
        context = {"rows": rows, "heads": layout.BAND_NAMES[1:], "key": key}
        return "part_changes.html", context | self._sent(request)

    def _session(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = self._looked(request, "room")
        mode = request.query_params.get("mode", "")
        if mode not in looked.found.indoors.sessions or key not in looked.plan.room:
            raise NoView(key)
        narrow = request.cookies.get("narrow") == "1"
        return "part_picture.html", {"picture": drawn.session(looked.found, key, mode, narrow), "label": "Session"}

    def _ledger(self, request: Request) -> tuple[str, dict[str, Any]]:
        looked, key = self._looked(request, "room")
        return "part_text.html", {"text": text.schedule(looked.found, key, tuple(looked.plan.mode))}

    def _compare(self, request: Request) -> tuple[str, dict[str, Any]]:
        if self.page.desk.empty:
            raise NoView
        looked = self.page.looked()
        known = variants(looked.source)
        names = tuple(dict.fromkeys(name for name in request.query_params.getlist("with") if name in known))
        if not names:
            return "part_refused.html", {"words": "Choose at least one variant."}
        columns = comparison(looked.source, names)
        found = [column.assessment for column in columns]
        modes = tuple(dict.fromkeys(mode for each in found for mode in each.plan.mode))
        places = tuple(dict.fromkeys(place for each in found for place, _ in each.noise))
        rows = []
        for place in places:
            for mode in modes:
                heard = [each.noise.get((place, mode)) for each in found]
                cells = ["–" if one is None else figure(one.scale, one.rating.value) for one in heard]
                rows.append((f"{looked.plan.place_name(place)}, {mode}", cells))
        context = {"columns": [column.name for column in columns], "rows": rows}
        return "part_compare.html", context | {"text": comparison_text(columns, modes, places)}
