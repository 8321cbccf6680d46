"""What helps against one finding: each way in words with the plan that it gives, and the sentence they make."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """One change, or several together."""

    words: str
    """The change and what it gives."""
    change: str
    """The change alone."""
    plan: Plan
    """With it."""
    meets: bool
    """Whether the finding is then met, as far as it is told."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Advice:
    """All that is told of, best first."""

    ways: tuple[Way, ...] = ()
    rest: str = ""
    """What is said after them, or instead of them, a sentence or more."""

    @property
    def sentence(self) -> str:
        """To follow the finding's own; with nothing to tell it is empty."""
        told = f"{'; '.join(way.words for way in self.ways)}." if self.ways else ""
        words = " ".join(part for part in (told, self.rest) if part)
        return f" What helps most: {words}" if words else ""
