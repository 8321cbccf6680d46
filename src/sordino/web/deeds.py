"""What can be done: every form of the page. Each answers with the view that it was sent from."""

from __future__ import annotations

import math
import threading
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import replace
from pathlib import PurePosixPath

from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from sordino.errors import PlanError, Refusal
from sordino.plan.lines import Path
from sordino.plan.reading import parsed
from sordino.units import UnitError, parse
from sordino.web import edit, written
from sordino.web.desk import DiskChanged, Stale
from sordino.web.fields import path_of, typed
from sordino.web.outcome import Trial
from sordino.web.page import Asked, Page

FARTHEST = 100.0
"""Longest that something can be dragged, m."""
Answer = Callable[[Request, Asked, int], Awaitable[Response]]
Form = Mapping[str, str]


class Superseded(Exception):
    """The same tab has typed on in the same field since."""


class Deeds:
    """Changes to the project, each in one go; the tab that asked sees why one is refused."""

    def __init__(self, page: Page, answer: Answer) -> None:
        self.page, self.answer, self.turn = page, answer, threading.Lock()
        self.last: dict[tuple[str, str], object] = {}

    def routes(self) -> list[Route]:
        """Their addresses."""
        deeds = {
            "/change": self._change,
            "/units": self._units,
            "/undo": lambda form: self.page.desk.undo(form["tab"], _seen(form)),
            "/redo": lambda form: self.page.desk.redo(form["tab"], _seen(form)),
            "/save": lambda form: self.page.desk.save(force=form.get("force") == "1"),
            "/reread": lambda form: self.page.desk.reread(form["tab"]),
            "/look": lambda form: None,
            "/begin": self._begin,
            "/try": self._try,
            "/keep": self._kept,
            "/text": self._text,
        }
        return [Route(at, self._endpoint(deed), methods=["POST"]) for at, deed in deeds.items()]

    def _endpoint(self, deed: Callable[[Form], object]) -> Callable[[Request], Awaitable[Response]]:
        async def endpoint(request: Request) -> Response:
            form = {name: value for name, value in (await request.form()).items() if isinstance(value, str)}
            form = {"tab": "", "number": "0", "back": "/"} | form
            asked = Asked(at=_back(form["back"]), tab=form["tab"])
            field, arrival = (form["tab"], form.get("path", request.url.path)), object()
            self.last[field] = arrival
            try:
                await run_in_threadpool(self._done, deed, form, field, arrival)
            except Superseded:
                return Response(status_code=204)
            except Stale as error:
                again = {**form, "to": request.url.path}
                return await self.answer(request, replace(asked, stale=error.since, again=again), 409)
            except DiskChanged:
                return await self.answer(request, replace(asked, conflict=True), 409)
            except (PlanError, Refusal, edit.NoPlace) as error:
                return await self.answer(request, _refused(asked, form, error), 422)
            except OSError as error:
                notice = f"The file can't be written: {(error.strerror or str(error)).lower()}."
                return await self.answer(request, replace(asked, notice=notice), 500)
            if "hx-request" not in request.headers:
                return RedirectResponse(asked.at, 303)
            response = await self.answer(request, asked, 200)
            response.background = BackgroundTask(edit.make_ready, self.page.desk.text)
            return response

        return endpoint

    def _done(self, deed: Callable[[Form], object], form: Form, field: tuple[str, str], arrival: object) -> None:
        """One deed after the other; of what is typed in one field only the last is worked out."""
        with self.turn:
            if "path" in form and self.last.get(field) is not arrival:
                raise Superseded
            deed(form)
            self.last.pop(field, None)

    def changed(self, form: Form, text: str, words: str, place: Path = ()) -> None:
        """Take a new text if it can be read and assessed."""
        self.page.bench.looked(text, self.page.desk.name)
        self.page.desk.change(text, words, form["tab"], _seen(form), place)

    def _change(self, form: Form) -> None:
        """One value, as typed or as dragged."""
        place, desk = path_of(form.get("path", "")), self.page.desk
        before = edit.value_at(parsed(desk.text, desk.name).data, place)
        value = self._dragged(form, before) if "metres" in form else typed(form.get("value", ""), before)
        text = edit.without(desk.text, place) if value is None else edit.with_value(desk.text, place, value)
        what = "left out" if value is None else value if isinstance(value, str) else "changed"
        self.changed(form, text, f"{' '.join(str(step) for step in place[1:])}: {what}", place)

    def _dragged(self, form: Form, before: object) -> str:
        try:
            metres = float(form["metres"])
        except ValueError:
            metres = math.nan
        if not 0.0 < metres < FARTHEST:
            raise Refusal("this is no length", "drag it once more")
        if isinstance(before, str):
            try:
                if abs(parse(before, "length from zero") - metres) < 1e-6:
                    return before
            except UnitError:
                pass
        return written.length(metres, self.page.looked().plan.units)

    def _units(self, form: Form) -> None:
        units = form.get("units", "")
        if units not in ("metric", "inch"):
            raise Refusal("there are metric and inch units", "choose one of them")
        self.changed(form, edit.with_value(self.page.desk.text, ("units",), units), f"shown in {units} units")

    def _text(self, form: Form) -> None:
        text = form.get("text", "").replace("\r\n", "\n")
        ends = "\r\n" if "\r\n" in self.page.desk.text else "\n"
        self.changed(form, text.replace("\n", ends), "the text itself")

    def _begin(self, form: Form) -> None:
        from sordino.web.beginning import begun

        self.changed(form, begun(form), "begun from the questions")

    def _try(self, form: Form) -> None:
        from sordino.web.trying import tried

        made, before = tried(self.page, form), self.page.desk.text
        self.changed(form, made.text, made.words)
        self.page.trial = Trial(number=self.page.desk.number, words=made.words, before=before, name=made.name)

    def _kept(self, form: Form) -> None:
        """What was tried stays: its outcome needs no more telling."""
        self.page.trial = None


def _seen(form: Form) -> int:
    text = form["number"]
    return int(text) if text.isascii() and text.isdigit() and len(text) < 12 else -1


def _back(text: str) -> str:
    """A view of this page and nothing else."""
    path, _, query = text.partition("?")
    clean = "/" + "/".join(step for step in PurePosixPath(path.replace("\\", "/")).parts if step not in ("/", ".."))
    return clean + (f"?{query}" if query else "")


def _refused(asked: Asked, form: Form, error: Exception) -> Asked:
    words = reason(error)
    if "path" in form and "metres" not in form:
        return replace(asked, refused={form["path"]: (form.get("value", ""), words)})
    return replace(asked, notice=words, again=form)


def reason(error: Exception) -> str:
    """Why something is not taken, in words."""
    if isinstance(error, PlanError):
        return " ".join(f"{fault.problem} {fault.cure}".strip() for fault in error.faults[:3])
    if isinstance(error, Refusal):
        return f"{error.problem.capitalize()}; {error.cure}."
    return str(error)
