"""The page at work: on loopback only, at a free port, until it is interrupted."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import secrets
import signal
import socket
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sordino.web.views.page import Page

LOOPBACK = "127.0.0.1"


@dataclass(frozen=True, kw_only=True, slots=True)
class Address:
    """Where the page is, with its key."""

    port: int
    key: str

    def __str__(self) -> str:
        return f"http://{LOOPBACK}:{self.port}/?key={self.key}"


def serve(
    path: Path | None, folder: Path, port: int, told: Callable[[Address], None], kept: Callable[[Path | OSError], None]
) -> None:
    """Serve one project until interrupted.

    `told` hears the address once the page answers; `kept` where what was not saved is kept at the end, or why it isn't.
    """
    import uvicorn

    from sordino.web.app import application

    with listening(port) as door, kept_results():
        address = Address(port=door.getsockname()[1], key=secrets.token_urlsafe(24))
        app = application(path, folder, address.key, lambda page: _keep(page, kept))
        server = uvicorn.Server(
            uvicorn.Config(app, log_level="error", server_header=False, ws="none", timeout_graceful_shutdown=2)
        )
        if hasattr(signal, "SIGHUP"):  # the window of the terminal was closed
            signal.signal(signal.SIGHUP, server.handle_exit)
        logging.getLogger("uvicorn.error").addFilter(_worth_telling)
        threading.Thread(target=_when_ready, args=(server, lambda: told(address)), daemon=True).start()
        try:
            server.run(sockets=[door])
        finally:  # a second Ctrl+C ends it without further ado
            _keep(app.state.page, kept)


def _keep(page: Page, kept: Callable[[Path | OSError], None]) -> None:
    """Write down what was not saved, and tell where, once."""
    before = page.unsaved.ended
    page.unsaved.ended = True
    if before:
        return
    try:
        place = page.unsaved.keep()
    except OSError as error:
        kept(error)
    else:
        if place is not None:
            kept(place)


def _worth_telling(record: logging.LogRecord) -> bool:
    """Answers that are cut short because the program was ended are no fault of anything."""
    error = record.exc_info[1] if record.exc_info else None
    return not isinstance(error, asyncio.CancelledError) and "graceful shutdown" not in record.getMessage()


def _when_ready(server: object, told: Callable[[], None]) -> None:
    import time

    while not getattr(server, "started", False):
        time.sleep(0.01)
    told()


def shown(address: Address) -> None:
    """Open the user's browser on it, if there is one."""
    with contextlib.suppress(Exception):
        webbrowser.open(str(address))


@contextlib.contextmanager
def listening(port: int) -> Iterator[socket.socket]:
    """A door on loopback; port 0 is any that is free."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as door:
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        door.bind((LOOPBACK, port))
        door.listen(64)
        yield door


@contextlib.contextmanager
def kept_results() -> Iterator[None]:
    """A store that the page shares with the processes it starts: for now only, if nothing is to be kept."""
    from sordino.cache import SETTING, folder

    if folder() is not None:
        yield
        return
    with tempfile.TemporaryDirectory(prefix="sordino-") as place:
        os.environ[SETTING] = place
        try:
            yield
        finally:
            os.environ[SETTING] = ""
