"""Loudspeaker, duct, box and microphone without any of them: recordings as a box's four-pole would have them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import soundfile

from boxed import boxed
from sordino.assess.assessment import Assessment, assess
from sordino.bands import LINES, Array
from sordino.elements.built_box import BuiltBox
from sordino.measure.kit import pink_noise, sweep_signal
from sordino.physics.signal.thirds import EDGES
from sordino.physics.sound.fourpole import characteristic_impedance, lossy_line

RATE = 48000
SECONDS = 8.0
BOX = "labyrinth"
SOURCE = 0.7
"""Impedance of the loudspeaker's side over that of the duct."""


@cache
def solved() -> tuple[Assessment, BuiltBox]:
    """A small box in its run, its field solved."""
    found = assess(boxed(BOX))
    return found, next(part for part in found.plan.run["way"].parts if isinstance(part, BuiltBox))


@cache
def loss_at_lines() -> Array:
    """Level beyond a bare tube over that beyond the box, dB at LINES, between a loudspeaker and an open end."""
    found, box = solved()
    air, area = found.air, box.section.area
    tube = lossy_line(LINES, box.path_length, area, 0.1, air.density, air.sound_speed)
    duct = characteristic_impedance(area, air.density, air.sound_speed)
    ka = 2.0 * np.pi * LINES / air.sound_speed * np.sqrt(area / np.pi)
    end = duct * (np.minimum(ka**2 / 4.0, 1.0) + 1j * np.minimum(0.61 * ka, 0.5))
    heard = [_heard(pole, end, SOURCE * duct) for pole in (tube, box.four_pole(air))]
    return np.asarray(20.0 * np.log10(heard[0] / heard[1]))


def _heard(pole: Array, end: Array, source: float) -> Array:
    a, b, c, d = pole[:, 0, 0], pole[:, 0, 1], pole[:, 1, 0], pole[:, 1, 1]
    return np.asarray(np.abs(end / (a * end + b + source * (c * end + d))))


def loss(frequency: Array) -> Array:
    """The same at any frequency, held beyond the ends."""
    return np.asarray(np.interp(np.log(np.maximum(frequency, 1.0)), np.log(LINES), loss_at_lines()))


def known_loss() -> Array:
    """Insertion loss for pink noise in the 27 thirds, dB."""
    bands = pairwise(EDGES)
    return np.array([-10.0 * np.log10(np.mean(10.0 ** (-loss(np.geomspace(*edges, 300)) / 10.0))) for edges in bands])


@dataclass(frozen=True, kw_only=True)
class Room:
    """How a recording goes wrong: noise and gain re full scale in dB, clock in parts of a million, drift in dB."""

    noise: float = -90.0
    gain: float = -10.0
    clock: float = 0.0
    drift: float = 0.0
    label: int = RATE
    """Rate that the header claims."""
    subtype: str = "PCM_24"
    seed: int = 0


def through(wave: Array, boxed_in: bool, room: Room) -> Array:
    """What the microphone records of a wave."""
    frequency = np.fft.rfftfreq(wave.size, 1.0 / RATE)
    gain = 10.0 ** (room.gain / 20.0) * np.exp(-2j * np.pi * frequency * 0.006)
    if boxed_in:
        gain = gain * 10.0 ** (-loss(frequency) / 20.0)
    heard = np.fft.irfft(np.fft.rfft(wave) * gain, wave.size)
    if room.clock:
        time = np.arange(wave.size) * (1.0 + 1e-6 * room.clock)
        heard = np.interp(time, np.arange(wave.size), heard)
    heard = heard * 10.0 ** (room.drift / 20.0 * np.linspace(0.0, 1.0, wave.size))
    return np.asarray(heard + noise(wave.size, room))


def noise(count: int, room: Room) -> Array:
    """The background alone."""
    return 10.0 ** (room.noise / 20.0) * np.random.default_rng(room.seed).standard_normal(count)


def signal(kind: str) -> Array:
    """What the loudspeaker plays."""
    return sweep_signal(SECONDS, float(RATE)) if kind == "sweep" else pink_noise(40.0, float(RATE))


def record(folder: Path, kind: str, with_box: Room, without: Room) -> None:
    """The three recordings of an insertion loss."""
    wave = signal(kind)
    for name, boxed_in, room in (("without", False, without), ("with", True, with_box)):
        write(folder / f"{name}.wav", np.clip(through(wave, boxed_in, room), -1.0, 1.0), room)
    quiet = Room(noise=with_box.noise, seed=99, label=with_box.label, subtype=with_box.subtype)
    write(folder / "quiet.wav", noise(30 * RATE, quiet), quiet)


def write(path: Path, wave: Array, room: Room) -> None:
    """A recording with the header it claims."""
    soundfile.write(path, wave, room.label, subtype=room.subtype)


def statement(kind: str = "sweep", background: bool = True) -> str:
    """The test in a project file."""
    quiet = 'background = "quiet.wav"\n' if background else ""
    return (
        f'\n[test.loss]\nis = "insertion loss"\nbox = "{BOX}"\nsignal = "{kind}"\nsweep_time = "{SECONDS:g} s"\n'
        f'without = "without.wav"\nwith = "with.wav"\n{quiet}'
    )
