"""A box that can't be laid out: what meets what, and the smallest change that would do, in the reader's units."""

from __future__ import annotations

import math

from sordino.errors import Refusal
from sordino.kinds import INCH
from sordino.units import System, show

STEP: dict[System, float] = {"metric": 1e-3, "inch": INCH / 16.0}
"""What a tape measure tells apart, m."""


class Clash(Refusal):
    """A box that can't be laid out: what meets what, and the smallest change that would do.

    Lengths in m stand in both texts by name, as `{duct}`. A name that begins with `least` is rounded up and one that
    begins with `most` down, so that what the cure says does cure.
    """

    def __init__(self, problem: str, cure: str, **lengths: float) -> None:
        self.lengths = lengths
        self.said = problem, cure
        super().__init__(*self.shown("metric"))

    def shown(self, system: System) -> tuple[str, str]:
        """The problem and the cure with lengths as people read them in that system."""
        told = {name: _told(name, length, system) for name, length in self.lengths.items()}
        problem, cure = self.said
        return problem.format(**told), cure.format(**told)


def _told(name: str, length: float, system: System) -> str:
    steps = length / STEP[system]
    if name.startswith("least"):
        steps = math.ceil(steps - 1e-6)
    elif name.startswith("most"):
        steps = math.floor(steps + 1e-6)
    return show(steps * STEP[system], "length", system)
