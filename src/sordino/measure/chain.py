"""From what a microphone recorded to levels: calibrator, calibration file, own noise."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sordino.bands import Array
from sordino.measure.levels import Levels, half_width, of_octaves, of_thirds
from sordino.measure.listening import heard
from sordino.measure.recording import beside, recording, refused
from sordino.physics.signal.background import reading
from sordino.physics.signal.thirds import CENTRES, NOMINAL, WIDTHS
from sordino.physics.sound.weighting import a_weighting
from sordino.plan.test import Chain

SINE = 10.0 * math.log10(0.5)
"""Mean square of a sine that just fills a recording, dB re full scale."""
MOST_DRIFT = 0.5
"""Change of the calibrator's level between beginning and end that is told, dB."""
TONES = (1000.0, 250.0)
"""Where calibrators sound, Hz: IEC 60942 (from memory) and pistonphones."""
PURE = 10.0
"""How far the calibrator's third must stand over the rest together, dB."""
LARGEST_FILE = 1_000_000
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


@dataclass(frozen=True, kw_only=True, eq=False)
class Scale:
    """What turns dB re full scale into dB re 20 µPa in each third, if that is known, and how sure it is."""

    gain: Array
    half: float
    known: bool
    flags: tuple[str, ...] = ()


def scale(chain: Chain, folder: Path) -> Scale:
    """The scale of a test's recordings; where no level is known the recordings keep dB re full scale."""
    response = microphone_response(beside(folder, chain.microphone)) if chain.microphone else np.zeros(CENTRES.size)
    plain = half_width("uncorrected microphone") if chain.microphone is None else 0.0
    if chain.calibrator is not None:
        gain, drift = _calibrated(chain, folder, response)
        half = math.hypot(half_width("calibrated level"), plain, drift)
        told = f"the calibrator's level changed by {drift:.1f} dB between beginning and end"
        return Scale(gain=gain - response, half=half, known=True, flags=(told,) if drift > MOST_DRIFT else ())
    if chain.full_scale is not None:
        half = math.hypot(half_width("stated full scale"), plain)
        return Scale(gain=chain.full_scale - SINE - response, half=half, known=True)
    return Scale(gain=-response, half=0.0, known=False)


def _calibrated(chain: Chain, folder: Path, response: Array) -> tuple[float, float]:
    """Gain from the calibrator's recording, and how much it had changed at the end, dB."""
    wanted = chain.calibrator
    assert wanted is not None
    names = [wanted.file, *([wanted.after] if wanted.after else [])]
    gains = [wanted.level - _tone(beside(folder, name), wanted.channel, response) for name in names]
    return float(np.mean(gains)), abs(gains[-1] - gains[0])


def _tone(path: Path, channel: str | None, response: Array) -> float:
    """Level of a calibrator's tone, dB re full scale, as a flat microphone would give it."""
    levels = np.nan_to_num(heard(recording(path, channel)).levels, nan=-300.0)
    band = int(np.argmax(levels))
    near = slice(max(band - 1, 0), band + 2)
    tone = 10.0 * np.log10((10.0 ** (levels[near] / 10.0)).sum())
    rest = 10.0 * np.log10(max((10.0 ** (np.delete(levels, np.r_[near]) / 10.0)).sum(), 1e-30))
    if tone - rest < PURE:
        raise refused(str(path), "no calibrator's tone stands out in this recording", "record the calibrator alone")
    if not any(abs(math.log2(CENTRES[band] / hertz)) < 0.5 for hertz in TONES):
        cure = "record the calibrator alone; a tone at another pitch is hum or a whistle"
        raise refused(str(path), f"what stands out is near {NOMINAL[band]:g} Hz, no calibrator's 1 kHz or 250 Hz", cure)
    return float(tone - response[band])


def microphone_response(path: Path) -> Array:
    """Response of a microphone in dB at the 27 midbands, from lines of Hz and dB; level ends are held."""
    if not path.is_file():
        raise refused(str(path), "there is no such calibration file", "it is looked for beside the project file")
    text = path.read_bytes()[:LARGEST_FILE].decode("utf-8", errors="replace")
    rows = sorted(pair for line in text.splitlines() if (pair := _pair(line)) is not None)
    if len(rows) < 3:
        cure = "it should hold lines of frequency in Hz and response in dB"
        raise refused(str(path), "this is no calibration file of a microphone", cure)
    frequency, level = np.array(rows).T
    return np.asarray(np.interp(np.log(CENTRES), np.log(frequency), level))


def _pair(line: str) -> tuple[float, float] | None:
    if not line.strip() or not (line.strip()[0].isdigit() or line.strip()[0] == "."):
        return None
    numbers = [float(one) for one in _NUMBER.findall(line)]
    good = len(numbers) >= 2 and 1.0 <= numbers[0] <= 1e5 and abs(numbers[1]) <= 60.0
    return (numbers[0], numbers[1]) if good else None


def own_noise(chain: Chain) -> Levels | None:
    """Own noise of microphone and preamp in bands; one figure in dBA is taken for noise alike at every frequency."""
    stated = chain.self_noise
    if stated is None:
        return None
    if isinstance(stated, tuple):
        octaves = np.array(stated)
        found = of_octaves(octaves, half_width("self-noise given"))
        thirds = np.repeat(octaves, 3) - 10.0 * np.log10(3.0)
        return Levels(thirds=reading(thirds, half_width("self-noise given")), octaves=found.octaves)
    shape = 10.0 * np.log10(WIDTHS)
    weighted = 10.0 * np.log10((10.0 ** ((shape + a_weighting(CENTRES)) / 10.0)).sum())
    found, half = of_thirds(shape + stated - weighted, np.zeros(CENTRES.size)), half_width("self-noise spread")
    return Levels(thirds=reading(found.thirds.level, half), octaves=reading(found.octaves.level, half))
