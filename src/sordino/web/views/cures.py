"""What would help against a finding, in the words of the assessment, and which of it can be tried on the file."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field

from sordino.report.advice import Way
from sordino.report.helping import advice
from sordino.search.help import helping_one
from sordino.web.solved.work import Looked
from sordino.web.views import telling
from sordino.web.views.differences import rewritten

KEPT = 16
"""Answers kept."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cure:
    """One way, and the project's text with it; None if it can't be written yet."""

    way: Way
    text: str | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Cures:
    """All ways, best first, and what is said after them."""

    found: tuple[Cure, ...]
    rest: str


@dataclass
class Chest:
    """What was found to help, by the state of the project and the finding; asking again costs nothing."""

    known: OrderedDict[tuple[str, int, str], Cures] = field(default_factory=OrderedDict)

    def cures(self, looked: Looked, name: str) -> Cures | None:
        """What helps against the finding of a name; None if there is none of that name any more."""
        key = (looked.source.text, len(looked.waiting), name)
        if key not in self.known:
            finding = telling.named(looked.found, name)
            if finding is None:
                return None
            told = advice(looked.found, finding, helping_one(looked.found, finding))
            found = tuple(Cure(way=way, text=rewritten(looked.source.text, looked, way.plan)) for way in told.ways)
            self.known[key] = Cures(found=found, rest=told.rest)
            while len(self.known) > KEPT:
                self.known.popitem(last=False)
        return self.known[key]
