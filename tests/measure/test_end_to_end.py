"""From a box's four-pole to WAV files, and from those back to its insertion loss: values within 1 dB, bounds true."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import playing
from boxed import plan_text
from playing import Room
from small import written
from sordino.errors import PlanError
from sordino.measure.measurement import measure
from sordino.measure.result import Measurement
from sordino.physics.signal.background import AT_LEAST

WITHIN = 1.0


def measured(folder: Path, kind: str = "sweep", background: bool = True) -> Measurement:
    """The test of recordings in a folder."""
    return measure(written(plan_text(playing.BOX) + playing.statement(kind, background)), "loss", folder)


def hold(found: Measurement, least: int) -> None:
    """Every value is within 1 dB of the truth, every bound is true, and at least so many are values."""
    one, truth = found.rows[0].levels.thirds, playing.known_loss()
    valued = one.valued
    assert np.abs(one.level - truth)[valued].max() < WITHIN
    bounded = (one.bound == AT_LEAST) & np.isfinite(one.level)
    assert (one.level[bounded] <= truth[bounded] + WITHIN).all()
    assert valued.sum() >= least


@pytest.mark.parametrize("kind", ["sweep", "steady"])
def test_in_a_quiet_room(tmp_path: Path, kind: str) -> None:
    """Noise 90 dB under full scale hides nothing."""
    playing.record(tmp_path, kind, Room(seed=1), Room(seed=2))
    found = measured(tmp_path, kind)
    hold(found, 27)
    said, one = found.rows[0].predicted, found.rows[0].levels.octaves
    assert said is not None
    assert ((one.level > said.low) & (one.level < said.high)).all(), "ends that reflect lie in the range"
    assert not found.missed


@pytest.mark.parametrize(("kind", "noise", "least"), [("sweep", -35.0, 8), ("steady", -62.0, 5)])
def test_in_a_loud_room(tmp_path: Path, kind: str, noise: float, least: int) -> None:
    """Where the noise hides what the box lets through, an `at least` stands, and it is true."""
    playing.record(tmp_path, kind, Room(noise=noise, seed=1), Room(noise=noise, seed=2))
    found = measured(tmp_path, kind)
    hold(found, least)
    assert (found.rows[0].levels.thirds.bound == AT_LEAST).sum() >= 4
    assert "at least" in found.answer[0]


@pytest.mark.parametrize("kind", ["sweep", "steady"])
def test_without_a_background_nothing_is_a_value(tmp_path: Path, kind: str) -> None:
    """Two bounds that pull apart say nothing."""
    playing.record(tmp_path, kind, Room(seed=1), Room(seed=2))
    one = measured(tmp_path, kind, background=False).rows[0].levels
    assert not one.thirds.valued.any()
    assert np.isnan(one.octaves.level).all()


def test_a_clock_that_runs_off(tmp_path: Path) -> None:
    """Another device's clock, 100 millionths fast, smears the response but keeps its energy."""
    playing.record(tmp_path, "sweep", Room(clock=100.0, seed=1), Room(clock=-60.0, seed=2))
    hold(measured(tmp_path), 27)


def test_a_level_that_drifts(tmp_path: Path) -> None:
    """A preamp that warms up by 1.2 dB during steady noise is told, and makes the result less sure."""
    playing.record(tmp_path, "steady", Room(drift=1.2, seed=1), Room(seed=2))
    drifted = measured(tmp_path, "steady")
    hold(drifted, 27)
    assert any("with.wav drifts by +" in flag for flag in drifted.flags)
    playing.record(tmp_path, "steady", Room(seed=1), Room(seed=2))
    steady = measured(tmp_path, "steady")
    assert (drifted.rows[0].levels.thirds.half > steady.rows[0].levels.thirds.half).all()


def test_a_header_with_the_wrong_rate(tmp_path: Path) -> None:
    """48 kHz labelled 44.1 kHz: the sweep gives it away, it is read at its true rate, and that is told."""
    playing.record(tmp_path, "sweep", Room(label=44100, seed=1), Room(label=44100, seed=2))
    found = measured(tmp_path)
    hold(found, 26)
    assert any(
        "without.wav says 44100 Hz, but the sweep in it was recorded at 48000 Hz" in flag for flag in found.flags
    )


@pytest.mark.parametrize("kind", ["sweep", "steady"])
def test_a_clipped_recording(tmp_path: Path, kind: str) -> None:
    """Turned up too far without the box: refused, with what to do."""
    playing.record(tmp_path, kind, Room(seed=1), Room(gain=22.0, seed=2))
    with pytest.raises(PlanError, match=r"without\.wav: the recording is clipped .* turn|Turn the preamp down"):
        measured(tmp_path, kind)


@pytest.mark.parametrize("subtype", ["PCM_16", "FLOAT", "DOUBLE", "PCM_32"])
def test_other_sample_formats(tmp_path: Path, subtype: str) -> None:
    """16 bits and float hold the same."""
    playing.record(tmp_path, "sweep", Room(subtype=subtype, seed=1), Room(subtype=subtype, seed=2))
    hold(measured(tmp_path), 26)


def test_what_was_swapped_is_seen(tmp_path: Path) -> None:
    """With and without mixed up: no loss, worse than predicted by more than both ranges, with causes and next tests."""
    playing.record(tmp_path, "sweep", Room(seed=1), Room(seed=2))
    (tmp_path / "with.wav").write_bytes((tmp_path / "without.wav").read_bytes())
    found = measured(tmp_path)
    assert found.missed
    assert np.abs(found.rows[0].levels.octaves.level).max() < 0.1
    assert found.causes
    assert all(cause.test for cause in found.causes)


def test_two_rates_in_one_test(tmp_path: Path) -> None:
    """The background from another device: each is read at its own rate, and that is told."""
    playing.record(tmp_path, "steady", Room(seed=1), Room(seed=2))
    playing.write(tmp_path / "quiet.wav", playing.noise(20 * 44100, Room(seed=4)), Room(label=44100))
    found = measured(tmp_path, "steady")
    hold(found, 27)
    assert any("different rates (44100, 48000 Hz)" in flag for flag in found.flags)


def test_a_sweep_that_is_cut_off(tmp_path: Path) -> None:
    """Half a sweep is refused; another kind of sound is flagged."""
    playing.record(tmp_path, "sweep", Room(seed=1), Room(seed=2))
    wave = playing.signal("sweep")
    playing.write(tmp_path / "with.wav", playing.through(wave, True, Room(seed=1))[: wave.size // 3], Room())
    with pytest.raises(PlanError, match=r"with\.wav: the recording is too short"):
        measured(tmp_path)
    playing.write(tmp_path / "with.wav", playing.through(playing.signal("steady"), True, Room(seed=1)), Room())
    other = measured(tmp_path)
    assert any("the sweep hardly stands out in with.wav" in flag for flag in other.flags)
    assert not other.rows[0].levels.thirds.valued.any()


def test_a_box_that_lets_nothing_be_heard(tmp_path: Path) -> None:
    """Noise alone with the box: an `at least` in every band, and true."""
    playing.record(tmp_path, "sweep", Room(noise=-50.0, seed=1), Room(noise=-50.0, seed=2))
    playing.write(tmp_path / "with.wav", playing.noise(14 * playing.RATE, Room(noise=-50.0, seed=5)), Room())
    one = measured(tmp_path).rows[0].levels.thirds
    assert (one.bound == AT_LEAST).all()
    assert np.isfinite(one.level).sum() > 20
