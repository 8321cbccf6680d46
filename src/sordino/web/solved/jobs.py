"""Long work in a process of its own: how far it is, how it ended, and how to end it."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Literal

from sordino.web.solved.ahead import Wanted

Stand = Literal["running", "done", "failed", "cancelled"]
PATIENCE = 2.0
"""Seconds that a process has to end by itself once asked to."""
HUNDRED = 100
"""Steps of what tells its progress in percent."""
_PERCENT = re.compile(r"\b([0-9]{1,3}) ?%")
LINES = 40
"""Lines of what a process said that are kept."""


@dataclass
class Job:
    """One process at work. `total` steps are expected; a line of JSON with `done` is one step."""

    kind: str
    words: str
    total: int
    process: subprocess.Popen[str]
    finished: Callable[[], None] | None = None
    stand: Stand = "running"
    done: int = 0
    started: float = field(default_factory=time.monotonic)
    said: list[str] = field(default_factory=list)
    ear: threading.Thread | None = None
    """Hears what it says."""
    key: str = ""
    """The box that it is about, if it is about one."""
    of: str = ""
    """The project's text that it was asked of, and the number of that state."""
    number: int = 0

    @property
    def share(self) -> float:
        """How much of it is done, 0 to 1."""
        return 1.0 if self.stand == "done" else min(self.done / self.total, 1.0) if self.total else 0.0

    @property
    def seconds(self) -> float:
        """Since it began."""
        return time.monotonic() - self.started

    def cancel(self) -> None:
        """End it; what it had finished stays."""
        if self.stand == "running":
            self.stand = "cancelled"
            self.process.terminate()
            threading.Thread(target=self._reap, daemon=True).start()

    def end(self) -> None:
        """Wait until the process is gone and nothing of it is left to be heard."""
        self._reap()
        if self.ear is not None:
            self.ear.join(PATIENCE)

    def wait(self) -> None:
        """Read what it says until it ends."""
        assert self.process.stdout is not None, "it is asked to speak"
        for line in self.process.stdout:
            self._hear(line.strip())
        status = self.process.wait()
        self.process.stdout.close()
        if self.stand == "running":
            self.stand = self._ended(status)

    def _ended(self, status: int) -> Stand:
        if status not in (0, 1):
            return "failed"
        try:
            if self.finished is not None:
                self.finished()
        except OSError as error:
            self.said.append(str(error))
            return "failed"
        return "done"

    def _hear(self, line: str) -> None:
        with contextlib.suppress(ValueError, TypeError):
            if "done" in json.loads(line):
                self.done += 1
                return
        told = _PERCENT.search(line)
        if told is not None and self.total == HUNDRED:
            self.done = max(self.done, min(int(told[1]), HUNDRED))
        self.said.append(line)
        del self.said[:-LINES]

    def _reap(self) -> None:
        try:
            self.process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def begun(
    kind: str,
    words: str,
    total: int,
    arguments: Sequence[str],
    asked: object = None,
    finished: Callable[[], None] | None = None,
) -> Job:
    """Start this Python with arguments; `asked` goes to its stdin as JSON."""
    process = subprocess.Popen(
        [sys.executable, *arguments],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    )
    assert process.stdin is not None, "it listens"
    with contextlib.suppress(OSError), process.stdin:
        process.stdin.write(json.dumps(asked) if asked is not None else "")
    job = Job(kind=kind, words=words, total=total, process=process, finished=finished)
    job.ear = threading.Thread(target=job.wait, daemon=True)
    job.ear.start()
    return job


@dataclass
class Jobs:
    """What is at work: sound fields that follow by themselves, and what somebody asked for, one of each kind."""

    following: Job | None = None
    followed: str = ""
    """The text that it follows."""
    asked: dict[str, Job] = field(default_factory=dict)
    """By kind: the fine field of a box, and the book."""
    ahead: Job | None = None
    """What a piece of the page waits for."""
    ahead_of: str = ""
    archive: Path | None = None
    """The last book that was made."""

    def follow(self, text: str, name: str, boxes: tuple[str, ...], size: float) -> None:
        """Solve the usual fields of boxes that only have quick ones, instead of those of an older text."""
        if self.followed == text:
            return
        if self.following is not None:
            self.following.cancel()
        self.followed = text
        words = "the sound fields of " + ", ".join(boxes)
        self.following = solved(words, [Wanted(text=text, name=name, boxes=boxes, size=size)], len(boxes))

    def go_ahead(self, key: str, begin: Callable[[], Job]) -> Job:
        """Solve for a piece, instead of what another piece has waited for."""
        if self.ahead is not None:
            self.ahead.cancel()
        self.ahead, self.ahead_of = begin(), key
        return self.ahead

    def busy(self, kind: str) -> bool:
        """Whether what was asked for of that kind is still at work."""
        return kind in self.asked and self.asked[kind].stand == "running"

    def close(self) -> None:
        """End all of it, and wait for that."""
        running = [job for job in (self.following, *self.asked.values(), self.ahead) if job is not None]
        for job in running:
            job.cancel()
        for job in running:
            job.end()
        self.forget_book()

    def forget_book(self) -> None:
        """Throw away the last book and all that it was made in."""
        if self.archive is not None:
            shutil.rmtree(self.archive.parent, ignore_errors=True)
            self.archive = None


def solved(words: str, wanted: Sequence[Wanted], total: int) -> Job:
    """A process that solves fields of boxes, `total` of them."""
    asked = [asdict(each) for each in wanted]
    return begun("fields", words, total, ("-m", "sordino.web.solved.solving"), asked)
