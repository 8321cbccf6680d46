"""A measured result beside its prediction: where both ranges part, and what usually makes such a difference."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import COUNT, Bands, name
from sordino.measure.result import Cause, Predicted, Row
from sordino.names import listed
from sordino.physics.signal.background import Reading
from sordino.tables import table

VAGUE = 10.0
"""Half-width from which a measured level agrees with anything, dB (judgement)."""
TOLD, LEAST_FIT = 3, 0.45
"""Most causes that are told, and the fit from which one is."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Gap:
    """How much worse than predicted each octave is, dB; NaN where that is not known."""

    worse: Bands
    """Measured against the predicted value."""
    beyond: Bands
    """Part of it that the two ranges together do not allow: 0 where they meet."""
    bounded: Bands
    """1 where only a bound was measured, 0 for a value."""

    @property
    def worst(self) -> int | None:
        """The octave that is furthest beyond both ranges, if one is."""
        known = np.nan_to_num(self.beyond)
        return int(known.argmax()) if known.max() > 0.0 else None


def gap(row: Row) -> Gap | None:
    """The gap of a row, if it has a prediction."""
    if row.predicted is None or row.sign == "time":
        return None
    return gap_of(row.levels.octaves, row.predicted, 1.0 if row.sign == "noise" else -1.0)


def gap_of(measured: Reading, said: Predicted, worse: float) -> Gap:
    """`worse` is 1 where more is worse. A bound tells of a gap only where it rules the prediction out."""
    over = worse * (measured.level - said.level)
    certain = measured.low - said.high if worse > 0 else said.low - measured.high
    beyond = np.where(np.isnan(certain), np.nan, np.maximum(certain, 0.0))
    told = measured.valued | (np.nan_to_num(beyond) > 0.0)
    bounded = np.where(measured.valued, 0.0, 1.0)
    return Gap(worse=np.where(told, over, np.nan), beyond=np.where(np.isinf(beyond), np.nan, beyond), bounded=bounded)


def better(row: Row) -> tuple[int, ...]:
    """Octaves that are better than predicted by more than both ranges allow."""
    if row.predicted is None:
        return ()
    measured, said = row.levels.octaves, row.predicted
    lead = said.low - measured.high if row.sign == "noise" else measured.low - said.high
    return tuple(int(band) for band in np.flatnonzero(np.nan_to_num(lead, nan=-1.0, neginf=-1.0) > 0.0))


def causes(found: Gap, kind: str, suspects: dict[str, float] | None = None) -> tuple[Cause, ...]:
    """The likeliest reasons first: how alike the shortfall and the usual shape of each are (cosine of the angle).

    `suspects` adds to the fit of causes that something else speaks for.
    """
    if found.worst is None:
        return ()
    shapes = table("measure/causes")
    columns = shapes.columns[2 : 2 + COUNT]
    ranked = [
        Cause(
            key=row["key"],
            words=row["words"],
            test=row["test"],
            fit=_fit(found, np.array([float(row[column]) for column in columns]), row["key"], suspects or {}),
        )
        for row in (shapes.row("key", key) for key in shapes.text("key"))
        if kind in row["kinds"].split()
    ]
    ranked.sort(key=lambda cause: -cause.fit)
    return tuple(cause for cause in ranked if cause.fit >= LEAST_FIT)[:TOLD]


def _fit(found: Gap, shape: Bands, key: str, suspects: dict[str, float]) -> float:
    known = np.isfinite(found.worse)
    short, usual = np.maximum(found.worse[known], 0.0), shape[known]
    size = float(np.linalg.norm(short) * np.linalg.norm(usual))
    alike = float(short @ usual) / size if size > 0.0 else 0.0
    hidden = float(found.bounded[1:].mean())
    if key == "background":  # it can only hide what lies under it
        alike *= hidden
    return min(max(alike + suspects.get(key, 0.0), 0.0), 1.0)


def bands_words(bands: tuple[int, ...]) -> str:
    """Octaves as `63 Hz, 125 Hz and 1 kHz`."""
    return listed(name(band) for band in bands)


def comparison(row: Row, what: str) -> str:
    """One sentence that holds a row against its prediction."""
    found = gap(row)
    if found is None:
        return ""
    if found.worst is not None:
        worse = tuple(int(band) for band in np.flatnonzero(np.nan_to_num(found.beyond) > 0.0))
        most = found.worse[found.worst]
        return (
            f"{what} is worse than predicted at {bands_words(worse)}, by more than both ranges allow: "
            f"{most:.0f} dB at {name(found.worst)}."
        )
    valued = [band for band in range(COUNT) if row.levels.octaves.valued[band] and np.isfinite(found.worse[band])]
    known = [band for band in valued if row.levels.octaves.half[band] <= VAGUE]
    if valued and not known:
        return f"{what} was measured too loosely to be held against the prediction: see the ranges."
    if not known:
        return f"{what} can't be held against the prediction: no band has a value."
    good = better(row)
    if good:
        return f"{what} is better than predicted at {bands_words(good)}, by more than both ranges allow."
    return f"{what} agrees with the prediction within both ranges at {bands_words(tuple(known))}."
