"""One answer: its figure with range, what it is held against, how it stands, and in plain words why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Standing = Literal["met", "likely met", "likely missed", "missed", "stop", "note"]
Question = Literal[
    "noise",
    "sound from other rooms",
    "isolation",
    "flow",
    "fan",
    "pressure",
    "air speed",
    "draught",
    "balance",
    "data",
    "fresh air",
    "carbon dioxide",
    "cooling",
    "humidity",
    "drying",
    "moisture",
    "mould",
    "weight",
    "hanging",
    "lifting",
    "fit",
    "bridge",
    "safety",
]

MISSED: tuple[Standing, ...] = ("likely missed", "missed", "stop")


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """An answer about one thing in one mode."""

    subject: str
    """Key of the room, run, mover, box or space."""
    question: Question
    mode: str
    standing: Standing
    sentence: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    limit: float | None = None
    unit: str = ""
    method: str = ""
    widest: str = ""
    """The cause that widens the range most."""
    beside: Standing = "note"
    """How a note would stand if what it is set beside were a target: a custom, or weather that is only assumed."""

    @property
    def missed(self) -> bool:
        """Whether a target is missed, or likely to be."""
        return self.standing in MISSED

    @property
    def heed(self) -> bool:
        """Whether it is worse than what it is set beside, and worth a look though it misses no target."""
        return self.standing == "note" and self.beside in MISSED


def standing(value: float, low: float, high: float, limit: float) -> Standing:
    """How a figure with a range stands against an upper limit."""
    if high <= limit:
        return "met"
    if value <= limit:
        return "likely met"
    return "likely missed" if low <= limit else "missed"
