"""What can be done: every form of the page. Each answers with the view that it was sent from."""

from __future__ import annotations

import threading
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import PurePosixPath

from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from sordino.errors import PlanError, Refusal
from sordino.plan.lines import Path
from sordino.plan.reading import parsed
from sordino.web.project import edit, keeping
from sordino.web.project.desk import Desk, DiskChanged, Stale
from sordino.web.project.dragging import dragged
from sordino.web.views import measuring
from sordino.web.views.fields import path_of, typed
from sordino.web.views.outcome import Trial
from sordino.web.views.page import Asked, Page

Answer = Callable[[Request, Asked, int], Awaitable[Response]]
Form = Mapping[str, str]
REWRITING: Mapping[str, Callable[[Desk, Form], tuple[str, ...]]] = {**keeping.DEEDS, **measuring.DEEDS}
"""What variants and tests are changed by."""


class Superseded(Exception):
    """The same tab has typed on in the same field since."""


class Deeds:
    """Changes to the project, each in one go; the tab that asked sees why one is refused."""

    def __init__(self, page: Page, answer: Answer) -> None:
        self.page, self.answer, self.turn = page, answer, threading.Lock()
        self.last: dict[tuple[str, str], object] = {}
        self.still: Callable[[], bool] = lambda: True
        """Whether what is being done is still wanted."""

    def routes(self) -> list[Route]:
        """Their addresses."""
        deeds = {
            "/change": self._change,
            "/units": self._units,
            "/undo": lambda form: self.page.desk.undo(form["tab"], _seen(form)),
            "/redo": lambda form: self.page.desk.redo(form["tab"], _seen(form)),
            "/save": self._save,
            "/unsaved": lambda form: self.page.unsaved.take(form["tab"], _seen(form)),
            "/unsaved/away": lambda form: self.page.unsaved.throw_away(),
            "/reread": lambda form: self.page.desk.reread(form["tab"]),
            "/look": lambda form: None,
            "/begin": self._begin,
            "/try": self._try,
            "/keep": self._kept,
            "/text": self._text,
        } | {at: partial(self._rewritten, deed) for at, deed in REWRITING.items()}
        return [Route(at, self._endpoint(deed), methods=["POST"]) for at, deed in deeds.items()]

    def _endpoint(self, deed: Callable[[Form], object]) -> Callable[[Request], Awaitable[Response]]:
        async def endpoint(request: Request) -> Response:
            form = {name: value for name, value in (await request.form()).items() if isinstance(value, str)}
            form = {"tab": "", "number": "0", "back": "/"} | form
            asked = Asked(at=_back(form["back"]), tab=form["tab"])
            field, arrival = (form["tab"], form.get("path", request.url.path)), object()
            self.last[field] = arrival
            try:
                to = await run_in_threadpool(self._done, deed, form, field, arrival)
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
            asked = replace(asked, at=to or asked.at)
            if "hx-request" not in request.headers:
                return RedirectResponse(asked.at, 303)
            response = await self.answer(request, self._with_words(asked, request.url.path), 200)
            if to:
                response.headers["HX-Replace-Url"] = to
            response.background = BackgroundTask(edit.make_ready, self.page.desk.text)
            return response

        return endpoint

    def _done(self, deed: Callable[[Form], object], form: Form, field: tuple[str, str], arrival: object) -> str:
        """One deed after the other; of what is typed in one field only the last is worked out. Where it is seen."""
        with self.turn:
            self.still = lambda: "path" not in form or self.last.get(field) is arrival
            self._give_up()
            to = deed(form)
            self.last.pop(field, None)
            return to if isinstance(to, str) else ""

    def _give_up(self) -> None:
        """Leave what is being worked out for a value that has been typed over since."""
        if not self.still():
            raise Superseded

    def _with_words(self, asked: Asked, to: str) -> Asked:
        """What a deed has done, for those who don't see the page change."""
        desk = self.page.desk
        if to in ("/change", "/look"):
            return asked
        words = {"/save": f"saved in {desk.name}", "/unsaved/away": "thrown away"}.get(to, desk.moves[-1].words)
        return replace(asked, said=f"{words[:1].upper()}{words[1:]}.", kind="saved" if to == "/save" else "done")

    def changed(self, form: Form, text: str, words: str, place: Path = ()) -> None:
        """Take a new text if it can be read and assessed."""
        self.page.bench.looked(text, self.page.desk.name, give_up=self._give_up)
        self.page.desk.change(text, words, form["tab"], _seen(form), place, form.get("stroke", ""))

    def _change(self, form: Form) -> None:
        """One value, as typed or as dragged."""
        place, desk = path_of(form.get("path", "")), self.page.desk
        now = edit.value_at(parsed(desk.text, desk.name).data, place)
        if "metres" in form:
            first = edit.value_at(parsed(desk.before(form.get("stroke", "")), desk.name).data, place)
            value: object = dragged(form, now, first, self.page.looked().plan.units)
        else:
            value = typed(form.get("value", ""), now)
        text = edit.without(desk.text, place) if value is None else edit.with_value(desk.text, place, value)
        what = "left out" if value is None else value if isinstance(value, str) else "changed"
        self.changed(form, text, f"{' '.join(str(step) for step in place[1:])}: {what}", place)

    def _save(self, form: Form) -> None:
        self.page.desk.save(force=form.get("force") == "1")
        self.page.unsaved.saved()

    def _units(self, form: Form) -> None:
        units = form.get("units", "")
        if units not in ("metric", "inch"):
            raise Refusal("there are metric and inch units", "choose one of them")
        self.changed(form, edit.with_value(self.page.desk.text, ("units",), units), f"shown in {units} units")

    def _text(self, form: Form) -> None:
        text = form.get("text", "").replace("\r\n", "\n")
        ends = "\r\n" if "\r\n" in (self.page.desk.text or self.page.desk.rough) else "\n"
        self.changed(form, text.replace("\n", ends), "the text itself")

    def _rewritten(self, deed: Callable[[Desk, Form], tuple[str, ...]], form: Form) -> str:
        """What gives a new text, in words what was done, and where that is seen if not where it was asked for."""
        before = self.page.desk.text
        text, words, *at = deed(self.page.desk, form)
        self.changed(form, text, words)
        if deed is keeping.work_with:
            self.page.trial = Trial(number=self.page.desk.number, words=words, before=before)
        return at[0] if at else ""

    def _begin(self, form: Form) -> None:
        from sordino.web.begin.beginning import begun

        self.changed(form, begun(form), "begun from the questions")

    def _try(self, form: Form) -> None:
        from sordino.web.views.trying import tried

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
    if "metres" in form:
        return replace(asked, said=words, kind="refused")
    if "path" in form:
        return replace(asked, refused={form["path"]: (form.get("value", ""), words)})
    return replace(asked, notice="" if "text" in form else words, again=form)  # the text tells its own


def reason(error: Exception) -> str:
    """Why something is not taken, in words."""
    if isinstance(error, PlanError):
        return " ".join(f"{fault.problem} {fault.cure}".strip() for fault in error.faults[:3])
    if isinstance(error, Refusal):
        return f"{error.problem.capitalize()}; {error.cure}."
    return str(error)
