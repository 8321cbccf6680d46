"""A store of slow results by their content: numbers as JSON in one SQLite file, safe to delete at any time."""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

SETTING = "SORDINO_CACHE"
"""Environment variable that names the folder; empty means keep nothing."""


def folder() -> Path | None:
    """Where results are kept: the folder that is set, else the user's cache folder."""
    stated = os.environ.get(SETTING)
    if stated is not None:
        return Path(stated) if stated else None
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "sordino"


def key_of(*parts: object) -> str:
    """A key that changes with any part; parts must be plain values."""
    text = json.dumps(parts, sort_keys=True, allow_nan=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def remembered(key: str, work: Callable[[], Any]) -> Any:
    """The plain value kept under a key, or that of `work`, kept for the next time.

    A store that can't be read or written costs time, never the answer.
    """
    known = kept(key)
    if known is not None:
        return known
    value, place = work(), folder()
    if place is not None:
        _write(place, key, value)
    return value


def kept(key: str) -> Any:
    """The plain value kept under a key; None if there is none."""
    place = folder()
    return _read(place, key) if place is not None else None


def _read(place: Path, key: str) -> Any:
    try:
        with closing(_opened(place)) as store:
            row = store.execute("select value from kept where key = ?", (key,)).fetchone()
        return json.loads(row[0]) if row else None
    except (OSError, sqlite3.Error, ValueError):
        return None


def _write(place: Path, key: str, value: Any) -> None:
    try:
        with closing(_opened(place)) as store, store:
            store.execute("insert or replace into kept values (?, ?)", (key, json.dumps(value)))
    except (OSError, sqlite3.Error):
        return


def _opened(place: Path) -> sqlite3.Connection:
    place.mkdir(parents=True, exist_ok=True)
    store = sqlite3.connect(place / "results.sqlite", timeout=5.0)
    store.execute("pragma journal_mode = wal")
    store.execute("create table if not exists kept (key text primary key, value text)")
    return store
