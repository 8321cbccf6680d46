"""Bad recordings: one clear message each, or a flagged result; good ones of every kind are read."""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile

from sordino.bands import Array
from sordino.errors import PlanError
from sordino.measure.kit import pink_noise, tone
from sordino.measure.listening import Heard, heard, in_runs
from sordino.measure.recording import recording
from sordino.physics.signal.thirds import CENTRES

RATE = 48000
NOISE = 0.2 * pink_noise(8.0, float(RATE))


def saved(path: Path, wave: Array, rate: int = RATE, subtype: str = "PCM_24") -> Path:
    """A recording on disk."""
    soundfile.write(path, wave, rate, subtype=subtype)
    return path


def listened(path: Path, channel: str | None = None) -> Heard:
    """The whole of it."""
    return heard(recording(path, channel))


def message(path: Path, channel: str | None = None) -> str:
    """The one message of a recording that can't be used; it names the file and ends with what would do."""
    with pytest.raises(PlanError) as caught:
        listened(path, channel)
    assert len(caught.value.faults) == 1
    told = str(caught.value)
    assert told.startswith(str(path))
    assert told.endswith(".")
    return told


def test_silent(tmp_path: Path) -> None:
    assert "the recording is silent. Look for a muted track" in message(saved(tmp_path / "a.wav", np.zeros(9 * RATE)))


def test_clipped(tmp_path: Path) -> None:
    """At full scale, and flat below it."""
    loud = np.clip(30.0 * NOISE, -1.0, 1.0)
    assert "the recording is clipped" in message(saved(tmp_path / "a.wav", loud))
    assert "the recording is clipped" in message(saved(tmp_path / "b.wav", 0.6 * loud))


def test_loud_but_clean(tmp_path: Path) -> None:
    """A sine and noise that come near full scale are let through, the sine of 50 Hz too."""
    for name, wave in (("a", tone(5.0, RATE) * 7.0), ("b", NOISE / np.abs(NOISE).max() * 0.99)):
        assert not listened(saved(tmp_path / f"{name}.wav", wave)).flags
    hum = 0.9 * np.sin(2.0 * np.pi * 50.0 * np.arange(5 * RATE) / RATE)
    assert not listened(saved(tmp_path / "c.wav", hum, subtype="FLOAT")).flags


def test_too_short(tmp_path: Path) -> None:
    assert "too short: 1.0 s. At least 2 s" in message(saved(tmp_path / "a.wav", NOISE[: RATE + 2000]))


def test_stereo_of_two_minds(tmp_path: Path) -> None:
    """Left and right differ: which one is meant must be said; once said, it is read."""
    other = 0.1 * np.random.default_rng(0).standard_normal(NOISE.size)
    path = saved(tmp_path / "a.wav", np.stack([NOISE, other], axis=1))
    assert 'left and right differ. Say which one is the microphone: channel = "left" or "right"' in message(path)
    one = listened(saved(tmp_path / "b.wav", NOISE)).levels
    assert listened(path, "left").levels == pytest.approx(one, abs=0.01)
    assert np.abs(listened(path, "right").levels - one).max() > 3.0


def test_stereo_with_one_side_empty(tmp_path: Path) -> None:
    """The other is used, and that is told."""
    found = listened(saved(tmp_path / "a.wav", np.stack([0.0 * NOISE, NOISE], axis=1)))
    assert found.flags == ("only the right channel of a.wav holds anything: it is used",)
    assert found.levels == pytest.approx(listened(saved(tmp_path / "b.wav", NOISE)).levels, abs=0.01)


def test_stereo_of_one_signal(tmp_path: Path) -> None:
    assert listened(saved(tmp_path / "a.wav", np.stack([NOISE, NOISE], axis=1))).flags == ()


def test_a_channel_that_is_not_there(tmp_path: Path) -> None:
    assert "there is no right channel: the recording is mono" in message(saved(tmp_path / "a.wav", NOISE), "right")


def test_many_channels(tmp_path: Path) -> None:
    assert "4 channels" in message(saved(tmp_path / "a.wav", np.stack([NOISE] * 4, axis=1)))


def test_truncated(tmp_path: Path) -> None:
    """Half a WAV file is read as far as it goes, and flagged; so is half a FLAC file."""
    path = saved(tmp_path / "a.wav", NOISE)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    found = listened(path)
    assert found.seconds < 4.1
    assert "a.wav breaks off: its header promises 1.15 MB of sound" in found.flags[0]
    coded = saved(tmp_path / "b.flac", NOISE)
    whole = coded.read_bytes()
    coded.write_bytes(whole[: len(whole) // 2])
    found = listened(coded)
    assert found.seconds < 7.0
    assert any("b.flac breaks off" in flag for flag in found.flags)


def test_over_four_gigabytes(tmp_path: Path) -> None:
    """A plain WAV header counts to 4 GB only: what it says of a longer file is wrong. The file is sparse."""
    path = saved(tmp_path / "a.wav", NOISE)
    with path.open("r+b") as stream:
        stream.truncate(2**32 + 5_000_000)
    assert "over 4 GB, which a plain WAV can't count" in message(path)
    assert "RF64" in message(path)


def test_a_recorder_that_never_wrote_the_length(tmp_path: Path) -> None:
    """Sizes of 2^32 - 1 stand for: to the end of the file."""
    path = saved(tmp_path / "a.wav", NOISE)
    raw = bytearray(path.read_bytes())
    at = raw.index(b"data") + 4
    raw[4:8] = raw[at : at + 4] = struct.pack("<I", 2**32 - 1)
    path.write_bytes(raw)
    found = listened(path)
    assert found.seconds > 6.0
    assert found.flags == ()


@pytest.mark.parametrize("content", [b"", b"RIFF", b"not a recording at all" * 99, b"RIFF\x24\0\0\0WAVEfmt "])
def test_no_recording(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "a.wav"
    path.write_bytes(content)
    assert "this is no recording that can be read" in message(path)


def test_empty_and_missing(tmp_path: Path) -> None:
    assert "the recording is empty" in message(saved(tmp_path / "a.wav", np.zeros(0)))
    with pytest.raises(PlanError, match="there is no such recording"):
        recording(tmp_path / "none.wav", None)


@pytest.mark.parametrize(
    ("name", "subtype"),
    [
        *(("a.wav", kind) for kind in ("PCM_16", "PCM_32", "FLOAT", "DOUBLE")),
        *((f"a.{kind}", "PCM_24") for kind in ("flac", "aiff", "rf64", "w64")),
        ("a.ogg", "VORBIS"),
    ],
)
def test_every_usual_kind(tmp_path: Path, name: str, subtype: str) -> None:
    """Levels alike to a tenth of a decibel from 50 Hz, one decibel for a lossy one, which is flagged."""
    wanted = listened(saved(tmp_path / "b.wav", NOISE)).levels[3:]
    found = listened(saved(tmp_path / name, NOISE, subtype=subtype))
    assert found.levels[3:] == pytest.approx(wanted, abs=1.0 if subtype == "VORBIS" else 0.1)
    assert any("coded with loss" in flag for flag in found.flags) == (subtype == "VORBIS")


@pytest.mark.parametrize("rate", [16000, 22050, 32000, 44100, 88200, 96000, 192000])
def test_every_usual_rate(tmp_path: Path, rate: int) -> None:
    """A sine of 1 kHz at -20 dB reads -20 dB in its third at any rate; thirds beyond the rate are not known."""
    found = listened(saved(tmp_path / "a.wav", tone(6.0, float(rate)), rate)).levels
    assert found[16] == pytest.approx(-20.0, abs=0.05)
    assert np.isfinite(found).sum() == (27 if rate > 40000 else np.searchsorted(CENTRES * 10**0.05, 0.35 * rate))


def test_pink_noise_is_pink(tmp_path: Path) -> None:
    """Alike in every third from 50 Hz within what chance allows."""
    found = listened(saved(tmp_path / "a.wav", pink_noise(40.0, float(RATE))))
    whole = -20.0 - 10.0 * np.log10(30.0)
    assert np.abs(found.levels[3:] - whole).max() < 0.7


def test_a_bang_is_told(tmp_path: Path) -> None:
    """A door that falls shut in a minute of quiet."""
    wave = 0.01 * np.tile(NOISE, 3)
    wave[9 * RATE : 9 * RATE + 9000] *= 60.0
    assert any("something loud happens" in flag for flag in listened(saved(tmp_path / "a.wav", wave)).flags)


def test_runs() -> None:
    """Only four and more on end count."""
    assert in_runs(np.array([1, 1, 1, 0, 1, 1, 1, 1, 1, 0, 1], bool)) == 5
    assert in_runs(np.zeros(3, bool)) == 0
