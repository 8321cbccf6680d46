"""Who may ask: only this machine's browser, from this page, with the key of this start."""

from __future__ import annotations

import hmac
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sordino.web.views.beyond import MOST

SAFE = ("GET", "HEAD")
LARGEST_FORM = 3_000_000
"""Most bytes of a form; recordings have a limit of their own."""
HEADERS = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
    "object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
CLOSED = "This page belongs to one start of sordino. Open the address that `sordino open` printed."


class Guard:
    """Lets through what carries the key in a cookie and comes from the page itself."""

    def __init__(self, app: ASGIApp, key: str, cookie: str) -> None:
        self.app, self.key, self.cookie = app, key, cookie

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            refusal = self._refusal(scope, Headers(scope=scope))
            await (refusal or self.app)(scope, receive, _with_headers(send, scope["path"]))

    def _refusal(self, scope: Scope, headers: Headers) -> Response | None:
        method, own = scope["method"], f"{scope['scheme']}://{headers.get('host', '')}"
        origin = headers.get("origin")
        if origin is not None and origin != own:
            return PlainTextResponse("This came from another page.", 403)
        if method not in SAFE and origin is None and headers.get("sec-fetch-site", "same-origin") != "same-origin":
            return PlainTextResponse("This came from another page.", 403)
        given = parse_qs(scope["query_string"].decode("latin-1"))
        if method in SAFE and "key" in given and self._right(given["key"][0]):
            return self._let_in(scope["path"], given)
        if not self._right(self._carried(headers)):
            return PlainTextResponse(CLOSED, 403)
        if scope["path"] == "/recording" and _length(headers, 0) > MOST * 1_000_000:
            return PlainTextResponse(f"The recording has more than {MOST} MB; cut it to the part that counts.", 413)
        if scope["path"] != "/recording" and _length(headers, LARGEST_FORM + 1) > LARGEST_FORM:
            return PlainTextResponse("This is more than a form holds.", 413)
        return None

    def _right(self, given: str) -> bool:
        return hmac.compare_digest(given.encode(), self.key.encode())

    def _carried(self, headers: Headers) -> str:
        try:
            found = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return ""
        return found.value if found is not None else ""

    def _let_in(self, path: str, given: dict[str, list[str]]) -> Response:
        """The key goes into a cookie and out of the address."""
        rest = urlencode({name: values for name, values in given.items() if name != "key"}, doseq=True)
        response = RedirectResponse("/" + path.lstrip("/") + (f"?{rest}" if rest else ""), 303)
        response.set_cookie(self.cookie, self.key, httponly=True, samesite="strict", path="/")
        return response


def _length(headers: Headers, unstated: int) -> int:
    """The stated length of a body, bytes; `unstated` for one that comes without."""
    stated = headers.get("content-length", "")
    if stated.isascii() and stated.isdigit():
        return int(stated[:20])
    return unstated if "transfer-encoding" in headers else 0


def _with_headers(send: Send, path: str) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", "no-cache" if path.startswith("/static/") else "no-store")
        await send(message)

    return sending
