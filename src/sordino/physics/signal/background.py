"""Sound read over a background: what is left of it, and when only a bound is known."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array

CLEAR, LEAST = 10.0, 6.0
"""Leads over the background from which nothing is corrected, and under which a level is only a bound, dB."""
MOST = 1.3
"""What is taken off a level that is only a bound, dB (ISO 16283-1:2014 clause 9.2)."""
AT_MOST, VALUE, AT_LEAST = -1, 0, 1


@dataclass(frozen=True, kw_only=True, eq=False)
class Reading:
    """Levels or level differences per band, dB: each a value, an `at most` or an `at least`; NaN is not known.

    Every band array has the same shape.
    """

    level: Array
    half: Array
    """Half-width of the range that holds nine times in ten."""
    bound: Array
    """AT_MOST, VALUE or AT_LEAST."""

    @property
    def valued(self) -> Array:
        """Bands that have a value."""
        return (self.bound == VALUE) & np.isfinite(self.level)

    @property
    def low(self) -> Array:
        """The least it may be, minus infinity where only a most is known."""
        known = np.where(self.bound == AT_MOST, -np.inf, self.level - self.half)
        return np.where(np.isnan(self.level), np.nan, known)

    @property
    def high(self) -> Array:
        """The most it may be, infinity where only a least is known."""
        known = np.where(self.bound == AT_LEAST, np.inf, self.level + self.half)
        return np.where(np.isnan(self.level), np.nan, known)

    def raised(self, gain: ArrayLike, half: ArrayLike = 0.0) -> Reading:
        """The same with a gain in dB added, which is itself as unsure as `half`."""
        return replace(self, level=self.level + gain, half=np.hypot(self.half, half))


def reading(level: ArrayLike, half: ArrayLike = 0.0) -> Reading:
    """Levels that are all values."""
    levels = np.asarray(level, float)
    widths = np.broadcast_to(np.asarray(half, float), levels.shape)
    return Reading(level=levels, half=widths, bound=np.zeros(levels.shape, int))


def correction(lead: ArrayLike) -> Array:
    """What a background that lies `lead` dB under a level adds to it: -10 lg(1 - 10^(-lead/10)), dB.

    As ISO 16283-1:2014 clause 9.2 has it: nothing from 10 dB, the formula from 6 to 10 dB, 1.3 dB under 6 dB.
    """
    gap = np.asarray(lead, float)
    formula = -10.0 * np.log10(1.0 - 10.0 ** (-np.clip(gap, LEAST, CLEAR) / 10.0))
    return np.where(gap >= CLEAR, 0.0, np.where(gap >= LEAST, formula, np.where(np.isnan(gap), np.nan, MOST)))


def cleared(total: Reading, background: Reading | None) -> Reading:
    """A sound read together with a background, without it; `at most` where it leads by under 6 dB, or if none is known.

    An unsure background makes the rest unsure: d L / d L_b = 1 / (10^(lead/10) - 1).
    """
    if background is None:
        return replace(total, bound=np.full(total.level.shape, AT_MOST))
    lead = total.level - background.level
    bounded = ~(lead >= LEAST)
    share = 1.0 / (10.0 ** (np.maximum(lead, LEAST) / 10.0) - 1.0)
    half = np.hypot(total.half * (1.0 + share), background.half * share)
    level = total.level - np.where(np.isnan(lead), 0.0, correction(lead))
    return Reading(level=level, half=half, bound=np.where(bounded, AT_MOST, total.bound))


def difference(first: Reading, second: Reading) -> Reading:
    """First minus second; a bound on one side bounds the difference, bounds that pull both ways leave it unknown."""
    bound = first.bound - second.bound
    clash = (first.bound != VALUE) & (first.bound == second.bound)
    level = np.where(clash, np.nan, first.level - second.level)
    return Reading(level=level, half=np.hypot(first.half, second.half), bound=np.sign(bound))


def mean_level(readings: list[Reading]) -> Reading:
    """Energy average over positions; as unsure as they differ, and as one of them is at the least."""
    levels = np.array([each.level for each in readings])
    whole = 10.0 * np.log10((10.0 ** (levels / 10.0)).mean(axis=0))
    half = np.sqrt((np.array([each.half for each in readings]) ** 2).mean(axis=0) / len(readings))
    if len(readings) > 1:
        half = np.hypot(half, STUDENT.get(len(readings), 1.83) * levels.std(axis=0, ddof=1) / np.sqrt(len(readings)))
    return Reading(level=whole, half=half, bound=np.min([each.bound for each in readings], axis=0))


STUDENT = {2: 6.31, 3: 2.92, 4: 2.35, 5: 2.13, 6: 2.02, 7: 1.94, 8: 1.89, 9: 1.86}
"""Half-width of a nine-in-ten range in standard errors of the mean, by the number of readings (Student's t)."""
