"""The page as an application: its addresses, and who may ask."""

from __future__ import annotations

import contextlib
import gc
import secrets
from collections.abc import AsyncIterator, Callable
from functools import cache
from pathlib import Path

import jinja2
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from sordino.errors import PlanError
from sordino.web.deeds import Deeds
from sordino.web.guard import Guard
from sordino.web.project.desk import Desk
from sordino.web.project.unsaved import Unsaved
from sordino.web.solved.jobs import Jobs
from sordino.web.solved.work import Bench
from sordino.web.views.beside import Beside
from sordino.web.views.longer import Longer
from sordino.web.views.measuring import Measuring
from sordino.web.views.more import More
from sordino.web.views.page import Asked, NoView, Page
from sordino.web.views.parts import Parts

HERE = Path(__file__).parent
HOSTS = ["127.0.0.1", "localhost"]


@cache
def templates() -> jinja2.Environment:
    """All templates; every name and text that is put in is escaped."""
    loader = jinja2.FileSystemLoader(HERE / "templates")
    return jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True)


def application(
    path: Path | None, folder: Path, key: str, ended: Callable[[Page], None] = lambda page: None
) -> Starlette:
    """The page of one project; without `path` it begins a new one in `folder`. `key` opens it.

    `ended` is called once nothing more is taken.
    """
    desk = Desk(path, folder)
    page = Page(desk=desk, bench=Bench(), jobs=Jobs(), unsaved=Unsaved(desk))
    views = Views(page)
    deeds, parts = Deeds(page, views.response), Parts(page, templates())

    @contextlib.asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        gc.freeze()  # what is loaded stays: looking through it again and again takes a third of every answer
        yield
        ended(page)
        page.jobs.close()

    app = Starlette(
        routes=[
            Mount("/static", StaticFiles(directory=HERE / "static")),
            *deeds.routes(),
            *parts.routes(),
            *Longer(page, templates()).routes(),
            *More(page, templates()).routes(),
            *Beside(page, templates()).routes(),
            *Measuring(page.desk, templates()).routes(),
            Route("/{path:path}", views.shown),
        ],
        middleware=[
            Middleware(TrustedHostMiddleware, allowed_hosts=HOSTS, www_redirect=False),
            Middleware(Guard, key=key, cookie=f"sordino-{secrets.token_hex(4)}"),
        ],
        lifespan=lifespan,
    )
    app.state.page = page
    return app


class Views:
    """Views as answers to a browser."""

    def __init__(self, page: Page) -> None:
        self.page = page

    async def shown(self, request: Request) -> Response:
        """The view at an address."""
        at = request.url.path + (f"?{request.url.query}" if request.url.query else "")
        return await self.response(request, Asked(at=at, tab=request.query_params.get("tab", "")))

    async def response(self, request: Request, asked: Asked, status: int = 200) -> Response:
        """A view, whole or only what changes, as the browser wants it."""
        from dataclasses import replace

        asked = replace(asked, narrow=request.cookies.get("narrow") == "1", tab=asked.tab or secrets.token_hex(6))
        part = "hx-request" in request.headers
        html, status = await run_in_threadpool(self._html, asked, part, status)
        return HTMLResponse(html, status)

    def _html(self, asked: Asked, part: bool, status: int) -> tuple[str, int]:
        desk, now = self.page.desk, part or asked.query("now") == "1"
        if not (now or desk.empty or self.page.bench.ready(desk.text, desk.name)):
            return templates().get_template("wait.html").render(title=desk.name), 200  # what takes long comes after it
        try:
            name, context = self.page.view(asked)
        except NoView:
            name, context, status = "nothing.html", {"asked": asked}, 404
        except PlanError as error:
            name, context = self.page.unread(asked, error)
        return templates().get_template(name).render(context | {"part": part}), status
