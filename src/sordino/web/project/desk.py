"""The project on the desk: its text in every state it has had, who changed it last, and the file it is saved in."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, replace
from pathlib import Path

from sordino.errors import Fault, PlanError
from sordino.plan.lines import Path as Place
from sordino.plan.reading import LARGEST, document
from sordino.report.files import write

KEPT = 500
"""States that can be gone back to."""
ONE_STEP = 1.0
"""Changes of one place within so many seconds are undone as one, s."""
MARK = "\ufeff"
"""What some editors put before a text."""


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """One state of the project."""

    text: str
    words: str
    """What was done to come here."""
    place: Place = ()
    stroke: str = ""
    """The one drag, or run of key presses, that it was made by."""
    at: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """A change, an undoing or a reading, and the tab that asked for it."""

    number: int
    tab: str
    words: str


class Stale(Exception):
    """The tab speaks of a state that another tab has left behind since."""

    def __init__(self, since: tuple[Move, ...]) -> None:
        self.since = since
        super().__init__("; ".join(move.words for move in since))


class DiskChanged(Exception):
    """The file is not as it was when this project was read from it or saved in it."""


class Desk:
    """All that the tabs share. Every public method may be called from several threads."""

    def __init__(self, path: Path | None, folder: Path) -> None:
        self.path, self.folder = path, folder
        self.lock = threading.RLock()
        self.states: list[State] = []
        self.at = -1
        self.moves: list[Move] = [Move(number=0, tab="", words="opened")]
        self.moved_at = 0.0
        self.disk: bytes | None = None
        self.trouble: PlanError | None = None
        self.rough = ""
        """The text of a file that could not be used when it was read first."""
        self.saved, self.mark = "", ""
        if path is not None and path.exists():
            self._read("opened", "")

    # what is there

    @property
    def empty(self) -> bool:
        """Whether no project has been begun yet."""
        return not self.states

    @property
    def number(self) -> int:
        """The number of the present state; it only ever grows."""
        return self.moves[-1].number

    @property
    def text(self) -> str:
        """The project as it is now."""
        with self.lock:
            return self.states[self.at].text if self.states else ""

    @property
    def name(self) -> str:
        """What the file is called, as messages show it."""
        return self.path.name if self.path is not None else "new project"

    @property
    def quiet(self) -> float:
        """Seconds since the project was changed."""
        return time.monotonic() - self.moved_at

    @property
    def unsaved(self) -> bool:
        """Whether the project differs from the file."""
        return not self.empty and self.text != self.saved

    @property
    def can_undo(self) -> str:
        """What would be undone; empty if nothing."""
        return self.states[self.at].words if self.at > 0 else ""

    @property
    def can_redo(self) -> str:
        """What would be done again; empty if nothing."""
        return self.states[self.at + 1].words if self.at + 1 < len(self.states) else ""

    def before(self, stroke: str) -> str:
        """The text as it was before a drag began, or as it is now if nothing of it has been taken yet."""
        with self.lock:
            under_way = stroke != "" and self.at > 0 and self.states[self.at].stroke == stroke
            return self.states[self.at - 1].text if under_way else self.text

    def since(self, number: int, most: int = 3) -> tuple[str, ...]:
        """What was done since a state, the last few of it."""
        return tuple(move.words for move in self.moves if move.number > number)[-most:]

    def has_done(self, words: str) -> bool:
        """Whether the present state came about by something of those words, among all else."""
        with self.lock:
            return any(state.words == words for state in self.states[: self.at + 1])

    def disk_changed(self) -> bool:
        """Whether somebody else wrote the file."""
        return self.path is not None and _content(self.path) != self.disk

    @property
    def gone(self) -> bool:
        """Whether the file that was read or saved is there no more."""
        return self.path is not None and self.disk is not None and not self.path.exists()

    # changes

    def change(self, text: str, words: str, tab: str, seen: int, place: Place = (), stroke: str = "") -> int:
        """A new state; a Stale if another tab has moved on from the state that was `seen`. Returns its number."""
        with self.lock:
            self._check(tab, seen)
            if self.states and text == self.text:
                return self.number
            made = State(text=text, words=words, place=place, stroke=stroke, at=time.monotonic())
            one = self.moves[-1].tab == tab and self.at > 0 and _one_step(self.states[self.at], made)
            del self.states[self.at + (0 if one else 1) :]
            if not (one and self.states[-1].text == text):  # moved back to where it began: as if it never had been
                self.states.append(made)
            del self.states[: max(0, len(self.states) - KEPT)]
            self.at = len(self.states) - 1
            return self._moved(tab, words)

    def undo(self, tab: str, seen: int) -> int:
        """Back to the state before."""
        with self.lock:
            self._check(tab, seen)
            if self.at > 0:
                words = self.states[self.at].words
                self.at -= 1
                self.states[self.at] = replace(self.states[self.at], at=0.0, stroke="")
                return self._moved(tab, f"undone: {words}")
            return self.number

    def redo(self, tab: str, seen: int) -> int:
        """Forward again."""
        with self.lock:
            self._check(tab, seen)
            if self.at + 1 < len(self.states):
                self.at += 1
                return self._moved(tab, f"done again: {self.states[self.at].words}")
            return self.number

    def save(self, force: bool = False) -> None:
        """Write the file whole; a DiskChanged if it is not as it was and that isn't meant to be overwritten."""
        with self.lock:
            if self.empty:
                return
            if self.path is None:
                self.path = free_name(self.folder)
                self.disk = None
            if not force and self.disk_changed():
                raise DiskChanged
            content = (self.mark + self.text).encode()
            write(self.path, content)
            self.disk, self.saved = content, self.text

    def reread(self, tab: str) -> int:
        """Take what the file says now, as a change that can be undone; a PlanError if it can't be read."""
        with self.lock:
            return self._read("read from the file again", tab)

    def _read(self, words: str, tab: str) -> int:
        assert self.path is not None, "there is a file"
        content = _content(self.path)
        try:
            text = document(self.path).text
        except PlanError as error:
            if self.states:
                raise
            self.trouble, self.disk = error, content
            self.mark, self.rough = _as_text(content or b"")
            return self._moved(tab, words)
        self.trouble = None
        self.mark = _as_text(content or b"")[0]
        self.disk, self.saved = content, text
        del self.states[self.at + 1 :]
        self.states.append(State(text=text, words=words))
        self.at = len(self.states) - 1
        return self._moved(tab, words)

    def _check(self, tab: str, seen: int) -> None:
        since = tuple(move for move in self.moves if move.number > seen and move.tab != tab)
        if since or seen > self.number:
            raise Stale(since)

    def _moved(self, tab: str, words: str) -> int:
        self.moves.append(Move(number=self.number + 1, tab=tab, words=words))
        self.moved_at = time.monotonic()
        del self.moves[: max(0, len(self.moves) - 4 * KEPT)]
        return self.number


def _one_step(last: State, made: State) -> bool:
    """Whether two changes, one after the other, are undone as one."""
    quick = made.at - last.at < ONE_STEP or (made.stroke != "" and made.stroke == last.stroke)
    return made.place != () and made.place == last.place and quick


def _content(path: Path) -> bytes | None:
    try:
        with path.open("rb") as stream:
            return stream.read(LARGEST + 1)
    except OSError:
        return None


def _as_text(content: bytes) -> tuple[str, str]:
    """What some editors put before a text, and the text; none if it can't be shown as one."""
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        return "", ""
    mark = MARK if text.startswith(MARK) else ""
    return mark, "" if "\0" in text or len(content) > LARGEST else text.removeprefix(MARK)


def free_name(folder: Path) -> Path:
    """A name for a project file that is not taken in a folder."""
    for number in range(1, 1000):
        path = folder / ("studio.toml" if number == 1 else f"studio-{number}.toml")
        if not path.exists():
            return path
    problem = "the folder is full of projects."
    raise PlanError([Fault(file=str(folder), line=None, key="", problem=problem, cure="Start in another folder.")])
