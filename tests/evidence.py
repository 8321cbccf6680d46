"""Checks against published sources: each records a row, and `make evidence` prints them all.

A row's mark tells how the published number reached us:
  read         read in the source or in a reproduction of it
  second-hand  read in somebody's transcription, not in the source
  derived      worked out by us from a closed form or an independent method, no publication
  memory       recalled by the author, not looked up
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

MARKS = ("read", "second-hand", "derived", "memory")


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One published number beside ours."""

    subject: str
    source: str
    quantity: str
    published: float
    computed: float
    tolerance: float
    relative: bool
    mark: str

    @property
    def deviation(self) -> float:
        gap = self.computed - self.published
        return gap / self.published if self.relative else gap

    @property
    def within(self) -> bool:
        return abs(self.deviation) <= self.tolerance * (1 + 1e-9)

    def __str__(self) -> str:
        scale, unit = (100.0, "%") if self.relative else (1.0, "")
        return (
            f"{self.subject:<16} {self.quantity[:66]:<66} {self.published:>11.5g} {self.computed:>11.5g} "
            f"{scale * self.deviation:>+9.3g}{unit:<1} {scale * self.tolerance:>7.3g}{unit:<1} "
            f"{'ok ' if self.within else 'OUT'} {self.mark:<11} {self.source}"
        )


ROWS: list[Row] = []

Check = Callable[..., None]
