"""A piece of a view that is made for itself: the name of its template with what that shows, or why there is none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import jinja2
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from sordino.errors import SordinoError
from sordino.web.views.page import NoView

Piece = tuple[str, dict[str, Any]]
Making = Callable[[Request], Piece]


def endpoint(templates: jinja2.Environment, making: Making) -> Callable[[Request], Any]:
    """What answers with a piece, made apart from the loop that serves."""

    async def answer(request: Request) -> Response:
        return await run_in_threadpool(_rendered, templates, making, request)

    return answer


def _rendered(templates: jinja2.Environment, making: Making, request: Request) -> Response:
    try:
        name, context = making(request)
        return HTMLResponse(templates.get_template(name).render(context))
    except NoView:
        return HTMLResponse("<p>There is nothing of that name any more.</p>", 404)
    except SordinoError as error:
        return HTMLResponse(templates.get_template("part_refused.html").render(words=str(error)), 422)
