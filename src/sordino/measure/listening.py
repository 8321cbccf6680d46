"""Listening to a recording from end to end: its energy in thirds second by second, and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sordino.bands import Array
from sordino.measure.recording import Recording, pieces, refused
from sordino.physics.signal.bank import GRAIN, Bank
from sordino.physics.signal.thirds import THIRDS, WIDTHS

SILENT = 1e-5
"""Peak under which a recording is taken for silence, of full scale (-100 dB)."""
FULL, RUN = 0.9995, 4
"""Share of full scale, and samples on end, that tell clipping."""
MOST_FULL, MOST_FLAT = 1e-5, 1e-3
"""Shares of samples from which a recording is refused as clipped: at full scale, and flat below it."""
OVER = 0.5
"""How far over full scale, which only floats can hold, is told, dB."""
SHORTEST = 2.0
"""Shortest recording of steady noise, s."""
UNSETTLED = 4
"""Pieces from which the first one is left out, while filters settle."""
NINE_IN_TEN = 1.64
STEEP = 20.0
"""Drift from which a recording is no steady noise, dB."""
DRIFT, BANG = 0.7, 12.0
"""Change from the first to the last third, and a second's lead over the median, that are told, dB."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Heard:
    """What a recording holds: mean squares re full scale, shape (pieces, 27), each about a second."""

    source: Recording
    energies: Array
    seconds: float
    peak: float
    flags: tuple[str, ...]

    @property
    def levels(self) -> Array:
        """Mean level of each third, dB re full scale, shape (27,)."""
        return 10.0 * np.log10(np.maximum(self.energies.mean(axis=0), 1e-30))

    @property
    def half(self) -> Array:
        """Half-width of a mean over a short time, and half of what it drifted, dB.

        The level of noise of bandwidth B over T scatters by 4.34 / sqrt(B T) dB (one standard deviation).
        """
        chance = NINE_IN_TEN * 4.34 / np.sqrt(WIDTHS * max(self.seconds, 1e-9))
        return np.hypot(chance, abs(self.drift) / 2.0)

    @property
    def drift(self) -> float:
        """How much the whole level grew from the first third of the recording to the last, dB, if that is told."""
        grown = _drift(np.nansum(self.energies, axis=1))
        return grown if abs(grown) > DRIFT else 0.0


def heard(source: Recording, start: float = 0.0, end: float | None = None) -> Heard:
    """Listen to a part of a recording; a PlanError if it is silent, clipped or too short."""
    bank, energies, watch, samples = Bank(source.rate), [], _Watch(), 0
    for piece in pieces(source, start, end):
        watch.see(piece)
        energies.append(bank.energies(piece))
        samples += piece.size
    seconds = samples / source.rate
    _usable(source, watch, samples, SHORTEST)
    told = _told(source, energies, watch)
    if end is None and samples < source.frames - start * source.rate - GRAIN:
        told = (*told, f"{_name(source)} breaks off after {start + seconds:.1f} of {source.seconds:.1f} s")
    found = np.array(energies[1:] if len(energies) >= UNSETTLED else energies).reshape(-1, THIRDS)
    return Heard(
        source=source,
        energies=found,
        seconds=seconds * len(found) / max(len(energies), 1),
        peak=watch.peak,
        flags=(*source.flags, *told),
    )


def usable(source: Recording, samples: Array, shortest: float) -> tuple[str, ...]:
    """Flags of samples that are at hand at once; a PlanError if they can't be used."""
    watch = _Watch()
    watch.see(samples)
    _usable(source, watch, samples.size, shortest)
    return (*source.flags, *_clipping(source, watch))


class _Watch:
    """Peak, and samples that stand flat at full scale or at the highest value there is."""

    def __init__(self) -> None:
        self.peak, self.top, self.full, self.flat, self.broken = 0.0, 0.0, 0, 0, False

    def see(self, piece: Array) -> None:
        if not piece.size:
            return
        size = np.abs(piece)
        top = float(size.max())
        if not np.isfinite(top):
            self.broken = True
            return
        self.peak = max(self.peak, top)
        if top >= FULL:
            self.full += in_runs((size >= FULL) & (size <= 1.0 + 1e-6))
        if top > self.top:
            self.top, self.flat = top, 0
        if top == self.top and top > 0.0:
            self.flat += in_runs(size == top)


def in_runs(marks: Array) -> int:
    """How many of the marks stand RUN or more on end."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], marks.astype(np.int8), [0]])))
    lengths = edges[1::2] - edges[::2]
    return int(lengths[lengths >= RUN].sum())


def _usable(source: Recording, watch: _Watch, samples: int, shortest: float) -> None:
    if watch.broken:
        raise refused(source.path, "the recording holds values that are no numbers", "export it once more, as 24 bits")
    if samples < shortest * source.rate - GRAIN:
        least = f"at least {shortest:g} s are needed, and a minute is better"
        raise refused(source.path, f"the recording is too short: {samples / source.rate:.1f} s", least)
    if watch.peak < SILENT:
        raise refused(source.path, "the recording is silent", "look for a muted track or the wrong input")
    if watch.full > MOST_FULL * samples or watch.flat > MOST_FLAT * samples:
        share = 100.0 * max(watch.full, watch.flat) / samples
        cure = "turn the preamp down by 10 dB and record everything once more, calibrator too"
        raise refused(source.path, f"the recording is clipped ({share:.3g} % of it)", cure)


def _clipping(source: Recording, watch: _Watch) -> tuple[str, ...]:
    touches = f"{_name(source)} touches full scale at {watch.full} samples"
    beyond = 20.0 * np.log10(max(watch.peak, 1e-9))
    over = f"{_name(source)} goes {beyond:.0f} dB over full scale: was it made louder after it was recorded?"
    return (*((touches,) if watch.full else ()), *((over,) if beyond > OVER else ()))


def _name(source: Recording) -> str:
    return Path(source.path).name


def _told(source: Recording, energies: list[Array], watch: _Watch) -> tuple[str, ...]:
    name = _name(source)
    total = np.nansum(energies[1:] if len(energies) >= UNSETTLED else energies, axis=1)
    flags = list(_clipping(source, watch))
    grown = _drift(total)
    if abs(grown) > DRIFT:
        flags.append(_drifting(name, grown))
    lead = 10.0 * np.log10(np.maximum(total, 1e-30) / max(float(np.median(total)), 1e-30))
    if lead.size > 4 and lead.max() > BANG:
        flags.append(f"something loud happens {int(lead.argmax()) + 1} s into {name}: cut it out with from and to")
    if np.count_nonzero(total <= 1e-20) > 0.01 * total.size:
        flags.append(f"{name} has stretches of digital silence: samples were lost")
    return tuple(flags)


def _drifting(name: str, grown: float) -> str:
    if abs(grown) < STEEP:
        return f"the level of {name} drifts by {grown:+.1f} dB from its beginning to its end"
    return f'{name} is no steady noise from beginning to end: if it is the sweep, write signal = "sweep"'


def _drift(total: Array) -> float:
    third = total.size // 3
    if third < 3:
        return 0.0
    early, late = (max(float(np.median(part)), 1e-30) for part in (total[:third], total[-third:]))
    return float(10.0 * np.log10(late / early))
