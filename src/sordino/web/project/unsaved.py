"""Work that was not saved when the program ended: kept beside the project file, and offered at the next start."""

from __future__ import annotations

import time
from pathlib import Path

from sordino.errors import Refusal
from sordino.plan.reading import document
from sordino.report.files import write
from sordino.web.project.desk import MARK, Desk

TAKEN = "the work that was not saved last time"
MOST = 100
"""Files of that kind that one project may have."""


class Unsaved:
    """The kept work of one project: found, taken, thrown away, and written when the program ends."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.offered = _last(desk)
        self.taken: Path | None = None
        self.ended = False
        """Whether the program has ended for this project."""

    @property
    def when(self) -> str:
        """When what is offered was kept, in the time of this place."""
        if self.offered is None or not self.offered.exists():
            return ""
        return time.strftime("%Y-%m-%d %H:%M", time.localtime(self.offered.stat().st_mtime))

    def take(self, tab: str, seen: int) -> None:
        """Go on with it, as a change that can be undone."""
        if self.offered is None or not self.offered.exists():
            raise Refusal("that work is not there any more", "load the page again")
        self.desk.change(document(self.offered).text, TAKEN, tab, seen)
        self.taken, self.offered = self.offered, None

    def throw_away(self) -> None:
        """Do without it."""
        if self.offered is not None:
            self.offered.unlink(missing_ok=True)
        self.offered = _last(self.desk)

    def saved(self) -> None:
        """What was taken up and is now in the project file need not be kept beside it."""
        if self.taken is not None and self.desk.has_done(TAKEN):
            self.taken.unlink(missing_ok=True)
            self.taken = None

    def keep(self) -> Path | None:
        """Write down what is not saved, whole or not at all; None if there is nothing."""
        desk = self.desk
        if not desk.unsaved:
            return None
        content = (desk.mark + desk.text).encode()
        self.taken = self.taken or next((path for path in _names(desk) if _free(path, content)), None)
        if self.taken is not None:
            write(self.taken, content)
        return self.taken


def _names(desk: Desk) -> list[Path]:
    """Where such work may stand: `mill-loft.unsaved.toml`, `mill-loft.unsaved-2.toml` and so on."""
    base = desk.path if desk.path is not None else desk.folder / "studio.toml"
    ends = ("", *(f"-{number}" for number in range(2, MOST)))
    return [base.with_name(f"{base.stem}.unsaved{end}.toml") for end in ends]


def _free(path: Path, content: bytes) -> bool:
    return not path.exists() or path.read_bytes() == content


def _last(desk: Desk) -> Path | None:
    """The latest that says something else than the project does."""
    there = [path for path in _names(desk) if path.is_file()]
    other = [path for path in there if path.read_bytes().decode("utf-8", "replace").removeprefix(MARK) != desk.text]
    return max(other, key=lambda path: path.stat().st_mtime, default=None)
