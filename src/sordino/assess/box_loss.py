"""What one box takes, band by band: its range over the brackets, what rules where, and the dips with their reasons."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.spread import half_width
from sordino.bands import COUNT, LINES_PER_BAND, Array, Bands, add, at_lines, octave
from sordino.elements.box_as_built import SURE
from sordino.elements.box_field import CASES, BoxField
from sordino.elements.built_box import BuiltBox
from sordino.physics.air.properties import Air
from sordino.physics.wave.refine import COARSER
from sordino.tables import table

THIRD = LINES_PER_BAND // 3
FIRST_THIRD = 3
"""Index of 50 Hz among the third-octaves, which begin at 25 Hz as LINES do."""
NEAR = 4
"""Lines either way in which a dip is looked for again once the dividers are rigid: under half an octave."""
FLOOR, UNSURE = 60.0, 3.0
"""The solver's own tolerance holds below FLOOR dB; above it a figure as unsure as UNSURE dB is not told."""
SHALLOWEST = 1.0
"""Dips less deep than this are not worth a word, dB."""
SAFETY = 1.5
"""On the error of a grid: two grids may agree by chance (Roache 1994 takes 1.25 to 3, from memory)."""
FITS = 0.12
"""How near a dip lies to a simple resonance that is named as its reason, as a share of its frequency."""
ALONG = ("air path", "inside length")
"""Lengths along the passage, where lining slows the sound."""
HALVES = (1, 2, 3)
"""Half-wavelengths along a length that are looked for."""
PASSAGE, CASING, SEALING = "passage", "casing", "default ceiling"
"""The ways past a box: through it, dividers and duct wall in its field; out by its faces and in again; gaps, joints and
what holds it, by the stated default."""
DIVIDERS = "dividers"
"""The reason of a dip that rigid dividers would not have."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LossBands:
    """Loss between matched ducts in bands, dB; low and high over all brackets."""

    centres: Array
    loss: Array
    low: Array
    high: Array
    lowest_case: tuple[str, ...]
    """The bracket with the least loss in each band; empty above the field."""
    error: Array
    """Numerical error by grid and basis, dB; NaN above the field."""

    @property
    def certain(self) -> Array:
        """Bands whose figure the arithmetic carries; in the others the loss is only known to be over FLOOR."""
        return (self.loss <= FLOOR) | ~(self.error > UNSURE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Dip:
    """A frequency at which the box takes less than on either side, and the likely reason."""

    frequency: float
    loss: float
    depth: float
    """How far it lies under the lower of the two peaks beside it, dB."""
    reason: str
    """The length of the box that resonates, or `dividers`; empty if none fits."""
    halves: int = 0
    """Half-wavelengths along it."""
    length: float = float("nan")
    """That length, m."""
    shifted: bool = False
    """Whether dividers that give way move it by more than a little."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Validity:
    """Where the methods behind the figures hold, Hz."""

    fibre_low: float
    fibre_high: float
    field_limit: float
    resistivity: float
    cell: float
    unknowns: int
    companion_cell: float


def thirds(field: BoxField) -> LossBands:
    """Third-octaves from 50 Hz to the field's limit, whole ones only."""
    return _bands(field, field.loss, field.range, THIRD, FIRST_THIRD)


def octaves(built: BuiltBox, air: Air, field: BoxField) -> LossBands:
    """Octaves over the whole range, with the extension above the field.

    That is as unsure as a handbook estimate, and at least as the field's last octave.
    """
    lines = built.loss_at_lines(air)
    low, high = lines.copy(), lines.copy()
    count = field.frequency.size
    low[:count], high[:count] = field.range
    beyond = at_lines(half_width("lined box estimate"))[count:]
    last = slice(max(count - LINES_PER_BAND, 0), count)
    below, above = (float(np.mean(gap[last])) for gap in (field.loss - low[:count], high[:count] - field.loss))
    low[count:] = np.maximum(lines[count:] - np.maximum(beyond, below), 0.0)
    high[count:] = lines[count:] + np.maximum(beyond, above)
    heard = np.isfinite(built.measured_at_lines)
    low[heard], high[heard] = lines[heard] - SURE, lines[heard] + SURE
    return _bands(field, lines, (low, high), LINES_PER_BAND, 0)


def _bands(field: BoxField, lines: Array, span: tuple[Array, Array], step: int, first: int) -> LossBands:
    last = lines.size // step
    places = [slice(i * step, (i + 1) * step) for i in range(first, last)]
    return LossBands(
        centres=np.array([1000.0 * 10.0 ** (0.3 * _centre(place)) for place in places]),
        loss=np.array([mean_loss(lines[place]) for place in places]),
        low=np.array([mean_loss(span[0][place]) for place in places]),
        high=np.array([mean_loss(span[1][place]) for place in places]),
        lowest_case=tuple(_lowest(field, place) for place in places),
        error=np.array([_error(field, place) for place in places]),
    )


def _centre(place: slice) -> float:
    """Octaves from 1 kHz to the middle of some of LINES."""
    return (place.start + place.stop) / 2.0 / LINES_PER_BAND - 5.5


def mean_loss(lines: Array) -> float:
    """Loss of a band from that at its lines: the mean transmitted energy, dB."""
    return float(-10.0 * np.log10(np.mean(10.0 ** (-lines / 10.0))))


def _lowest(field: BoxField, place: slice) -> str:
    known = field.losses[:, place]
    if not known.shape[1]:
        return ""
    return CASES[int(np.argmin([mean_loss(case) for case in known]))].name


def _error(field: BoxField, place: slice) -> float:
    """What grid and basis may be off by in a band, dB: the mean of the one and the most of the other."""
    part = slice(place.start, min(place.stop, field.frequency.size))
    if part.stop <= part.start:
        return float("nan")
    return float(SAFETY * np.mean(field.grid[part]) + np.max(field.error[part]))


def counted(loss: Bands, ceiling: Bands) -> Bands:
    """What a loss counts for beside what goes round it, dB."""
    return -add(-loss, -ceiling)


def ruling(loss: Bands, casing: Bands, default: Bands) -> tuple[str, ...]:
    """Which way lets most through in each octave; the earlier one if alike."""
    ways = np.stack([loss, casing, default])
    return tuple((PASSAGE, CASING, SEALING)[way] for way in np.nan_to_num(ways, nan=np.inf).argmin(axis=0))


def counted_range(found: LossBands, casing: Bands, default: Bands, scatter: str) -> tuple[Bands, Bands]:
    """The least and the most that the box counts for, with what goes round it as unsure as it is, dB.

    Out through the casing and back in is as unsure as two panels of that scatter that err alike.
    """
    out_and_in, sealing = 2.0 * half_width(scatter), half_width("default ceiling")
    least = counted(casing - out_and_in, default - sealing)
    most = counted(casing + out_and_in, default + sealing)
    return np.maximum(counted(found.low, least), 0.0), counted(found.high, most)


def divider_cost(field: BoxField) -> Bands | None:
    """What sound through the dividers costs against rigid ones, dB; NaN above the field, None without the bracket."""
    if len(field.losses) < len(CASES):
        return None
    rigid, plain = _rigid(field), field.losses[0]
    places = [slice(i * LINES_PER_BAND, (i + 1) * LINES_PER_BAND) for i in range(COUNT)]
    return octave([mean_loss(rigid[p]) - mean_loss(plain[p]) if rigid[p].size else np.nan for p in places])


def dips(built: BuiltBox, field: BoxField, air: Air) -> tuple[Dip, ...]:
    """Dips of the headline loss between its peaks, the deepest first, each with the resonance that lies nearest."""
    found = [(at, depth_below(field.loss, at)) for at in lowest_points(field.loss)]
    made = [_dip(built, field, at, depth, air) for at, depth in found if depth >= SHALLOWEST]
    return tuple(sorted(made, key=lambda dip: -dip.depth))


def lowest_points(values: Array) -> list[int]:
    """Where values are less than on either side."""
    return [at for at in range(1, values.size - 1) if values[at - 1] > values[at] <= values[at + 1]]


def depth_below(values: Array, at: int) -> float:
    """How far a low point lies under the lower of the two summits between it and the next lower ones, or the ends."""
    deeper = np.flatnonzero(values < values[at])
    left, right = deeper[deeper < at], deeper[deeper > at]
    before = values[left[-1] if left.size else 0 : at + 1]
    after = values[at : (right[0] + 1) if right.size else None]
    return float(min(before.max(), after.max()) - values[at])


def _dip(built: BuiltBox, field: BoxField, at: int, depth: float, air: Air) -> Dip:
    frequency, loss = float(field.frequency[at]), float(field.loss[at])
    held = _with_rigid_dividers(field, at) if built.layout.prism.dividers else at
    if _rigid(field)[held] - loss > depth / 2.0:
        return Dip(frequency=frequency, loss=loss, depth=depth, reason=DIVIDERS)
    seen = float(field.frequency[held])
    near = min(_gaps(built, seen, air))
    if near[0] > 0.0:
        return Dip(frequency=frequency, loss=loss, depth=depth, reason="")
    return Dip(
        frequency=frequency,
        loss=loss,
        depth=depth,
        reason=near[3],
        halves=near[2],
        length=near[4],
        shifted=abs(frequency / seen - 1.0) > FITS / 2.0,
    )


def _gaps(built: BuiltBox, frequency: float, air: Air) -> Iterator[tuple[float, float, int, str, float]]:
    """For each length and count of half-waves: how far outside what would fit a frequency lies, and how far off."""
    for name, length in resonant_lengths(built):
        slow = slowing(built) if name in ALONG else 1.0
        for halves in HALVES:
            off = abs(frequency / (halves * air.sound_speed * (1.0 + slow) / (4.0 * length)) - 1.0)
            yield max(off - FITS - (1.0 - slow) / 2.0, 0.0), off, halves, name, length


def _rigid(field: BoxField) -> Array:
    """The loss with rigid frame and dividers, dB; that of the plain rigid frame where this bracket is not solved."""
    at = [case.name for case in CASES].index("rigid frame and dividers")
    return field.losses[at if at < len(field.losses) else 0]


def _with_rigid_dividers(field: BoxField, at: int) -> int:
    """Where a dip lies with dividers that do not give way: the least loss within half an octave."""
    first = max(at - NEAR, 0)
    return first + int(np.argmin(_rigid(field)[first : at + NEAR + 1]))


def resonant_lengths(built: BuiltBox) -> tuple[tuple[str, float], ...]:
    """Inside lengths along which standing waves may build up, m; the way of the air first."""
    box, path = built.build, built.layout.length
    lengths = (("inside length", box.length), ("inside height", box.height), ("inside width", box.width))
    return lengths if abs(path / box.length - 1.0) < 0.05 else (("air path", path), *lengths)


def slowing(built: BuiltBox) -> float:
    """Speed of low sound in a lined passage over that in free air: the lining's air is a spring that has no mass.

    sqrt(S clear / S gross), for a lining far thinner than the wave; 1 where a duct leads through fibre.
    """
    if built.build.holds_duct:
        return 1.0
    gross = max(built.wave_area, built.layout.narrowest.size.area)
    return float(np.sqrt(built.layout.narrowest.size.area / gross))


def validity(built: BuiltBox, field: BoxField) -> Validity:
    """Where the fibre model and the field hold."""
    row = table("wave/one_parameter_fits").row("fit", "miki")
    resistivity = built.build.fill.resistivity
    return Validity(
        fibre_low=float(row["low"]) * resistivity,
        fibre_high=float(row["high"]) * resistivity,
        field_limit=field.limit,
        resistivity=resistivity,
        cell=field.cell,
        unknowns=field.unknowns,
        companion_cell=COARSER * field.cell,
    )
