"""How a command ends: a status for what was found, a line for what went wrong, never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from typing import Any

import click

from sordino.errors import PlanError, SordinoError

MET, MISSED, UNUSABLE = 0, 1, 2
INTERRUPTED, PIPE_CLOSED = 130, 141
"""As shells count an end by signal 2 and by signal 13."""


def ended(run: Callable[[], Any]) -> int:
    """The exit status of a command; what went wrong is on stderr by then, one line each."""
    _forgive_characters()
    try:
        status = run()
        if sys.stdout is None:  # closed before we began: what was to be read has gone nowhere
            return PIPE_CLOSED
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        return UNUSABLE
    except (KeyboardInterrupt, click.Abort):
        return INTERRUPTED
    except BrokenPipeError:
        _forget_stdout()
        return PIPE_CLOSED
    except SystemExit:  # click's own end at a closed pipe, whose status 1 would read as a missed target
        return PIPE_CLOSED
    except Exception as error:
        return _told(error)
    return status if isinstance(status, int) else MET


def _told(error: Exception) -> int:
    if isinstance(error, PlanError):
        lines = [str(fault) for fault in error.faults]
    elif isinstance(error, OSError):
        name = os.fspath(error.filename) if error.filename is not None else "sordino"
        lines = [f"{_text(name)}: {(error.strerror or str(error)).lower()}."]
    elif isinstance(error, SordinoError):
        lines = [f"sordino: {error}"]
    else:
        words = " ".join(str(error).split())[:200]
        lines = [f"sordino: internal error: {type(error).__name__}: {words}; please report it, with the project file"]
    for line in lines:
        click.echo(line, err=True)
    return UNUSABLE


def _text(name: str | bytes) -> str:
    return os.fsdecode(name)


def _forgive_characters() -> None:
    """A terminal that lacks a character gets a question mark, not an error."""
    reconfigure = getattr(sys.stdout, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def _forget_stdout() -> None:
    """Let nothing be written to the closed pipe when Python ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
