"""What takes long and is asked for by a button: the fine field of a box, and the build book."""

from __future__ import annotations

import jinja2
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response
from starlette.routing import Route

from sordino.elements.box_field import FINE
from sordino.web.solved.ahead import Wanted
from sordino.web.solved.jobs import Job, solved
from sordino.web.views import beyond
from sordino.web.views.page import Page

KINDS = ("fine", "book")


class Longer:
    """Their addresses, and how far each is; one of a kind at a time."""

    def __init__(self, page: Page, templates: jinja2.Environment) -> None:
        self.page, self.templates = page, templates

    def routes(self) -> list[Route]:
        """Where they are."""
        return [
            Route("/fine/{key}", self._fine, methods=["POST"]),
            Route("/build", self._build, methods=["POST"]),
            Route("/book.zip", self._book),
            Route("/job/{kind}", self._job),
            Route("/job/{kind}/cancel", self._cancel, methods=["POST"]),
        ]

    async def _fine(self, request: Request) -> Response:
        """Begin the fine solve of one box."""
        return await run_in_threadpool(self._begin_fine, str(request.path_params["key"]))

    def _begin_fine(self, key: str) -> Response:
        jobs, desk = self.page.jobs, self.page.desk
        if desk.empty or key not in self.page.looked().plan.box:
            return HTMLResponse("<p>There is nothing of that name any more.</p>", 404)
        if not jobs.busy("fine"):
            words = f"the sound field of {key} on the fine grid"
            wanted = Wanted(text=desk.text, name=desk.name, boxes=(key,), size=FINE)
            self._begun("fine", key, solved(words, [wanted], 1), desk.text, desk.number)
        return self._told("fine", key)

    async def _build(self, request: Request) -> Response:
        """Begin to make the book."""
        return await run_in_threadpool(self._begin_book)

    def _begin_book(self) -> Response:
        jobs, desk = self.page.jobs, self.page.desk
        if not desk.empty and not jobs.busy("book"):
            jobs.forget_book()
            text, number = desk.text, desk.number
            job, jobs.archive = beyond.book(text, desk.name)
            self._begun("book", "", job, text, number)
        return self._told("book", "")

    def _begun(self, kind: str, key: str, job: Job, text: str, number: int) -> None:
        job.key, job.of, job.number = key, text, number
        self.page.jobs.asked[kind] = job

    async def _book(self, request: Request) -> Response:
        archive = self.page.jobs.archive
        if archive is None or not archive.is_file():
            return HTMLResponse("<p>There is no book yet.</p>", 404)
        return FileResponse(archive, media_type="application/zip", filename="book.zip")

    async def _job(self, request: Request) -> Response:
        return self._told(request.path_params["kind"], request.query_params.get("key", ""))

    async def _cancel(self, request: Request) -> Response:
        kind = request.path_params["kind"]
        if (job := self.page.jobs.asked.get(kind)) is not None:
            job.cancel()
        return self._told(kind, request.query_params.get("key", ""))

    def _told(self, kind: str, key: str) -> Response:
        if kind not in KINDS:
            return HTMLResponse("<p>There is no such work.</p>", 404)
        context = {"kind": kind, "key": key, "jobs": self.page.jobs, "desk": self.page.desk, "asked_now": True}
        return HTMLResponse(self.templates.get_template("part_job.html").render(context))
