"""Pieces of views that come by themselves: what a box takes, its section, its sound field; and recordings."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import jinja2
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from sordino.assess.box_answer import indoor_air, standing
from sordino.assess.box_picture import BoxPicture, box_picture
from sordino.assess.weight import mass, weight_of
from sordino.elements.box_field import FINE
from sordino.errors import PlanError, Refusal, SordinoError
from sordino.report import box_words
from sordino.report.phrases import pressure
from sordino.units import show
from sordino.web.solved.work import QUICK, answered
from sordino.web.views import beyond, drawn
from sordino.web.views.page import NoView, Page, _frequency


class Parts:
    """Their addresses and what they hold."""

    def __init__(self, page: Page, templates: jinja2.Environment) -> None:
        self.page, self.templates, self.turn = page, templates, threading.Lock()

    def routes(self) -> list[Route]:
        """Where they are."""
        return [
            Route("/pulse", self._pulse),
            Route("/part/box/{key}", self._endpoint("part_box.html", self._box)),
            Route("/part/section/{key}", self._endpoint("part_section.html", self._section)),
            Route("/part/field/{key}", self._endpoint("part_field.html", self._field)),
            Route("/recording", self._recording, methods=["POST"]),
            Route("/part/test/{key}", self._endpoint("part_test.html", self._test)),
            Route("/model/{key}.glb", self._model),
        ]

    def _endpoint(self, name: str, context: Callable[[Request], dict[str, Any]]) -> Callable[[Request], Any]:
        async def endpoint(request: Request) -> Response:
            return await run_in_threadpool(self._rendered, name, context, request)

        return endpoint

    def _rendered(self, name: str, context: Callable[[Request], dict[str, Any]], request: Request) -> Response:
        """One piece after the other, so that a change of the project never waits for more than one of them."""
        with self.turn:
            if self._outdated(request):
                return Response(status_code=204)
            return self._made(name, context, request)

    def _outdated(self, request: Request) -> bool:
        """Whether the piece belongs to a state that has been left since: the next one asks for its own."""
        number = request.query_params.get("number", "")
        return number.isdigit() and int(number) < self.page.desk.number

    def _made(self, name: str, context: Callable[[Request], dict[str, Any]], request: Request) -> Response:
        try:
            return HTMLResponse(self.templates.get_template(name).render(context(request)))
        except NoView:
            return HTMLResponse("<p>There is nothing of that name any more.</p>", 404)
        except SordinoError as error:
            return HTMLResponse(self.templates.get_template("part_refused.html").render(words=str(error)), 422)

    async def _pulse(self, request: Request) -> Response:
        """What has changed behind a tab's back; asked every second, so it must cost nothing."""
        return JSONResponse(await run_in_threadpool(self._beat))

    def _beat(self) -> dict[str, Any]:
        desk = self.page.desk
        try:
            self.page.follow()
            waiting = () if desk.empty else self.page.looked().waiting
        except PlanError:
            waiting = ()
        return {
            "number": desk.number,
            "disk": desk.disk_changed(),
            "gone": desk.gone,
            "waiting": len(waiting),
        }

    def _key(self, request: Request) -> str:
        key = str(request.path_params["key"])
        if self.page.desk.empty or key not in self.page.looked().plan.box:
            raise NoView(key)
        return key

    def _box(self, request: Request) -> dict[str, Any]:
        looked, key = self.page.looked(), self._key(request)
        answer, size = answered(looked, key, None)
        plan = looked.plan
        told = [
            box_words.takes(answer),
            f"{box_words.weakness(answer, plan)} {box_words.rules(answer)}",
            box_words.dips_told(answer, plan),
            box_words.air_told(answer, plan),
        ]
        return {
            "picture": drawn.loss(answer, key, _narrow(request)),
            "told": [words for words in told if words],
            "notes": answer.notes,
            "size": show(size, "length", plan.units),
            "quick": size == QUICK,
            "fine": size == FINE,
            "pressure": pressure(plan, answer.through.loss),
            "mode": answer.through.mode,
            "mass": mass(plan, weight_of(answer.built).whole),
            "key": key,
        }

    def _section(self, request: Request) -> dict[str, Any]:
        looked, key = self.page.looked(), self._key(request)
        place = standing(looked.plan, key).built
        picture = BoxPicture(box=place.build, section=place.section, made=place.layout, slices=())
        return {"picture": drawn.section(picture, key, looked.plan.units, _narrow(request))}

    def _field(self, request: Request) -> dict[str, Any]:
        looked, key = self.page.looked(), self._key(request)
        place, air = standing(looked.plan, key).built, indoor_air(looked.plan)
        known = standing(looked.found.plan, key).built.field
        assert known is not None, "it has been assessed"
        limit = known.limit
        at = min(_frequency(request.query_params.get("at", "")), limit)
        picture = box_picture(place.build, place.section, air, (at,), QUICK)
        return {
            "picture": drawn.field(picture, key, at, _narrow(request)),
            "at": at,
            "limit": limit,
            "key": key,
        }

    async def _model(self, request: Request) -> Response:
        """A box in space."""
        return await run_in_threadpool(self._glb, request)

    def _glb(self, request: Request) -> Response:
        try:
            with self.turn:
                made = beyond.model(self.page.looked().plan, self._key(request))
        except (NoView, SordinoError):
            made = None
        if made is None:
            return Response(status_code=404)
        return Response(made, media_type="model/gltf-binary")

    async def _recording(self, request: Request) -> Response:
        """Keep what was dropped on the page."""
        folder, name = self.page.desk.folder, request.query_params.get("name", "")
        try:
            kept = await beyond.received(folder, name, request.stream())
        except (Refusal, OSError) as error:
            words = f"{name}: {error.strerror if isinstance(error, OSError) else error}."
            return HTMLResponse(self.templates.get_template("part_refused.html").render(words=words), 422)
        if kept is None:  # whoever sent it has gone
            return Response(status_code=499)
        return HTMLResponse(self.templates.get_template("part_kept.html").render(kept=kept))

    def _test(self, request: Request) -> dict[str, Any]:
        looked, key = self.page.looked(), str(request.path_params["key"])
        if key not in beyond.tests(looked.plan):
            raise NoView(key)
        told = beyond.measured(looked.found.plan, key, self.page.desk.folder)
        return told | {"key": key, "number": self.page.desk.number}


def _narrow(request: Request) -> bool:
    return request.cookies.get("narrow") == "1"
