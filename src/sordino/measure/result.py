"""What a test gives: rows of bands or of single figures, each beside what was predicted, and what follows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sordino.bands import Bands
from sordino.measure.levels import Levels

Kind = Literal["insertion loss", "level difference", "vent", "room noise", "reverberation", "air flow"]
Sign = Literal["loss", "noise", "time"]
"""Whether more is better, less is better, or neither."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Predicted:
    """What an assessment says of the same, in nine octaves, with its range."""

    level: Bands
    low: Bands
    high: Bands


def predicted(level: Bands, below: Bands, above: Bands | None = None) -> Predicted:
    """A prediction with its half-widths down and up."""
    return Predicted(level=level, low=level - below, high=level + (below if above is None else above))


@dataclass(frozen=True, kw_only=True, eq=False)
class Row:
    """One measured quantity by bands, dB (or s for a time)."""

    label: str
    levels: Levels
    sign: Sign
    predicted: Predicted | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Single:
    """One figure: a rating of a spectrum, or a flow; `at most`, `at least` or a value with its range."""

    label: str
    unit: str
    value: float
    low: float
    high: float
    predicted: tuple[float, float, float] | None = None
    """Value, low and high."""

    @property
    def bound(self) -> str:
        """`at most`, `at least`, or nothing for a value."""
        if not np.isfinite(self.low):
            return "at most"
        return "at least" if not np.isfinite(self.high) else ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cause:
    """One likely reason of a difference: how well its shape fits, from 0 to 1, and the next cheapest test."""

    key: str
    words: str
    test: str
    fit: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Measurement:
    """Everything that one test gives."""

    name: str
    kind: Kind
    title: str
    rows: tuple[Row, ...]
    singles: tuple[Single, ...]
    answer: tuple[str, ...]
    """Sentences, the answer first."""
    causes: tuple[Cause, ...]
    flags: tuple[str, ...]
    paste: tuple[str, str] | None = None
    """Table of the project file, and the line that states the result in it."""
    missed: bool = False
    """Whether a target is missed, or the result is worse than predicted by more than both ranges allow."""

    @property
    def main(self) -> Row | None:
        """The row that is held against its prediction."""
        return next((row for row in self.rows if row.predicted is not None), self.rows[0] if self.rows else None)
