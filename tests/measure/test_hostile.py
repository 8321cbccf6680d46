"""What a hurried or hostile hand writes and records: refused with one message, or told, and never called a value."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path

import numpy as np
import pytest
import soundfile
from click.testing import CliRunner

import tested
from small import written
from sordino.cli.main import main
from sordino.errors import PlanError
from sordino.measure.kit import pink_noise, sweep_signal
from sordino.measure.measurement import measure
from sordino.measure.result import Measurement
from sordino.physics.signal.background import AT_MOST, VALUE
from sordino.report.measured import marked, measured_text
from tested import house

RATE = 48000
BOX = """
[box.b]
family = "labyrinth"
length = "0.9 m"
width = "0.32 m"
height = "0.5 m"
passes = 2
lining = "50 mm"
"""
HOUSE = house('{ is = "lined box", box = "b" }') + BOX
NOISE = pink_noise(8.0, float(RATE))
LOUD, QUIET, HUSH = [80.0] * 8, [60.0] * 8, [20.0] * 8
WAYS = 'is = "vent"\nfrom = "there"\nto = "here"\n'
LOSS = 'is = "insertion loss"\nbox = "b"\n'
ROOM = 'is = "room noise"\nroom = "here"\n'
AIR = 'is = "air flow"\nrun = "way"\n'


gives = partial(tested.gives, plan=HOUSE)


def typed(**readings: list[float]) -> str:
    """Readings as levels typed from a meter."""
    return "".join(f"{name} = {{ octaves = {levels} }}\n" for name, levels in readings.items())


def recorded(folder: Path, wave: np.ndarray, name: str = "a.wav", subtype: str = "PCM_24") -> str:
    """A recording beside the project file; its name."""
    soundfile.write(folder / name, wave, RATE, subtype=subtype)
    return name


@pytest.mark.parametrize(
    ("statement", "problem"),
    [
        (
            f'{ROOM}on = "a.wav"\ncalibrator = {{ file = "c.wav", level = "9.4 dB" }}',
            "no sound calibrator makes 9.4 dB",
        ),
        (f'{ROOM}on = "a.wav"\nfull_scale = "12 dB"', "no recording is filled by 12 dB"),
        (f'{ROOM}{typed(on=LOUD)}self_noise = "180 dBA"', "no microphone makes 180 dBA by itself"),
        (f'{ROOM}{typed(on=LOUD)}self_noise = "-40 dBA"', "no microphone makes -40 dBA by itself"),
        (f'{LOSS}without = "a.wav"\nwith = "a.wav"', "a.wav stands for two readings"),
        (f'{LOSS}without = ["a.wav", "a.wav"]\nwith = "b.wav"', "a.wav stands for two readings"),
        (f'{LOSS}without = ""\nwith = "b.wav"', "a recording without a name"),
        (f"{WAYS.replace('there', 'here')}{typed(source=LOUD, open=QUIET, plugged=HUSH)}", "is where the loudspeaker"),
        (f'is = "reverberation"\nroom = "here"\n{typed(sweep=LOUD)}', "can't be told from levels"),
        ('is = "reverberation"\nroom = "here"\nsweep = "a.wav"\nsweep_time = "0 s"', "no sweep lasts 0 s"),
        (f'{AIR}bag = {{ volume = "120 m3", times = ["8 s"] }}', "nobody holds a bag of 120 m3"),
        (f'{AIR}bag = {{ volume = "20 L", times = ["0.3 s"] }}', "no hand times 0.3 s"),
    ],
)
def test_what_is_not_believed_is_refused(statement: str, problem: str) -> None:
    with pytest.raises(PlanError, match=re.escape(problem)):
        gives(statement)


@pytest.mark.parametrize("options", [["--seconds", "nan"], ["--out", ""]])
def test_signals_that_cannot_be_written(options: list[str], tmp_path: Path) -> None:
    got = CliRunner().invoke(main, ["signal", "--out", str(tmp_path / "kit"), *options])
    assert got.exit_code == 2
    assert "internal error" not in got.output


def test_files_outside_the_folder_are_not_read(tmp_path: Path) -> None:
    """By dots, by an absolute name, by a link; a link inside is followed."""
    home = tmp_path / "home"
    home.mkdir()
    out, inside = recorded(tmp_path, 0.2 * NOISE, "out.wav"), recorded(home, 0.2 * NOISE, "in.wav")
    (home / "link.wav").symlink_to(tmp_path / out)
    (home / "near.wav").symlink_to(home / inside)
    for name in (f"../{out}", str(tmp_path / out), "link.wav"):
        for stated in (f'on = "{name}"\nfull_scale = "100 dB"', f'on = "in.wav"\ncalibrator = {{ file = "{name}" }}'):
            with pytest.raises(PlanError, match="lies outside the project's folder"):
                gives(f"{ROOM}{stated}", home)
        with pytest.raises(PlanError, match="lies outside the project's folder"):
            gives(f'{ROOM}on = "in.wav"\nfull_scale = "100 dB"\nmicrophone = "{name}"', home)
    assert gives(f'{ROOM}on = "near.wav"\nfull_scale = "100 dB"', home).rows


@pytest.mark.parametrize("value", [np.nan, np.inf])
@pytest.mark.parametrize("signal", ["steady", "sweep"])
def test_values_that_are_no_numbers(value: float, signal: str, tmp_path: Path) -> None:
    wave = 0.2 * (NOISE if signal == "steady" else sweep_signal(3.0, float(RATE)))
    recorded(tmp_path, wave, "good.wav", "FLOAT")
    recorded(tmp_path, np.where(np.arange(wave.size) == 9000, value, wave), "bad.wav", "FLOAT")
    stated = f'{LOSS}without = "good.wav"\nwith = "bad.wav"\nsignal = "{signal}"\nsweep_time = "3 s"\n'
    with pytest.raises(PlanError, match=r"bad\.wav: the recording holds values that are no numbers"):
        gives(stated, tmp_path)


def test_floats_over_full_scale_and_eight_bits_are_told(tmp_path: Path) -> None:
    over = recorded(tmp_path, NOISE / np.abs(NOISE).max() * 4.0, "over.wav", "FLOAT")
    coarse = recorded(tmp_path, 0.1 * NOISE, "coarse.wav", "PCM_U8")
    flags = gives(f'{LOSS}without = "{over}"\nwith = "{coarse}"', tmp_path).flags
    assert any(flag.startswith("over.wav goes 12 dB over full scale") for flag in flags)
    assert any(flag.startswith("coarse.wav has 8 bits") for flag in flags)


def test_hum_is_no_calibrator(tmp_path: Path) -> None:
    recorded(tmp_path, 0.2 * NOISE)
    t = np.arange(6 * RATE) / RATE
    for hertz, good in ((50.0, False), (250.0, True), (1000.0, True), (4000.0, False)):
        recorded(tmp_path, 0.1 * np.sin(2.0 * np.pi * hertz * t), "c.wav")
        stated = f'{ROOM}on = "a.wav"\ncalibrator = {{ file = "c.wav" }}'
        if good:
            assert gives(stated, tmp_path).rows
        else:
            with pytest.raises(PlanError, match=f"what stands out is near {hertz:.0f} Hz"):
                gives(stated, tmp_path)


def test_two_seconds_are_two_seconds(tmp_path: Path) -> None:
    recorded(tmp_path, 0.2 * NOISE[: 2 * RATE])
    assert gives(f'{ROOM}on = "a.wav"\nfull_scale = "100 dB"', tmp_path).rows


def test_swapped_readings_are_told_and_blamed() -> None:
    """What should be quieter is louder: no gap or lining explains that, and nothing is offered to be written down."""
    swaps = {
        "with box b than without": f"{LOSS}{typed(without=QUIET, background=HUSH)}with = {{ octaves = {LOUD} }}",
        "than where the loudspeaker plays": f"{WAYS}{typed(source=QUIET, open=LOUD, plugged=HUSH, background=HUSH)}",
        "with the vent plugged than open": f"{WAYS}{typed(source=LOUD, open=HUSH, plugged=QUIET, background=HUSH)}",
        "The background is louder than with the loudspeaker on": (
            f"{WAYS}{typed(source=LOUD, open=HUSH, plugged=HUSH, background=QUIET)}"
        ),
    }
    for words, statement in swaps.items():
        found = gives(statement)
        assert words in found.answer[0]
        assert [cause.key for cause in found.causes] == ["swapped"]
        assert found.paste is None
        assert not any("predicted" in sentence or "not the limit" in sentence for sentence in found.answer)


def test_a_plug_that_makes_it_louder_does_not_clear_the_vent() -> None:
    found = gives(f"{WAYS}{typed(source=LOUD, open=QUIET, plugged=[70.0] * 8, background=HUSH)}")
    assert not any("The vent is not the limit" in words for words in found.answer)


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        (f"{LOSS}{typed(without=LOUD)}with = {{ octaves = {QUIET} }}", "No background is stated"),
        (f"{LOSS}{typed(without=LOUD, background=QUIET)}with = {{ octaves = {QUIET} }}", "The background hides"),
        (
            f'is = "level difference"\nfrom = "there"\nto = "here"\n{typed(source=LOUD, received=QUIET)}',
            "No background is stated",
        ),
    ],
)
def test_why_nothing_is_known_is_told(statement: str, words: str) -> None:
    assert any(words in sentence for sentence in gives(statement).answer)


def test_positions_far_apart_are_told_and_not_written_down() -> None:
    """Two positions of the box 30 dB apart give a range that agrees with anything: that is no measured loss."""
    two = f"[{{ octaves = {QUIET} }}, {{ octaves = {[30.0] * 8} }}]"
    found = gives(f"{LOSS}{typed(without=LOUD, background=[0.0] * 8)}with = {two}")
    assert any("the positions of one reading differ by 30 dB" in flag for flag in found.flags)
    assert found.paste is None


TARGET = HOUSE.replace("[room.here]", '[room.here]\ntarget = "NC-15"')


def test_a_microphone_of_unknown_noise_can_miss_no_target() -> None:
    """22 dB at 2 and 4 kHz may all be the microphone's own: bounded, and NC 15 is not missed there."""
    on = [30.0, 30.0, 25.0, 22.0, 22.0, 22.0, 22.0, 22.0]
    found = gives(f"{ROOM}{typed(on=on)}", plan=TARGET)
    assert (found.rows[0].levels.octaves.bound[4:] == AT_MOST).all()
    assert not any("is missed" in words for words in found.answer)
    assert not found.missed
    loud = gives(f"{ROOM}{typed(on=LOUD)}", plan=TARGET)
    assert (loud.rows[0].levels.octaves.bound[1:] == VALUE).all()
    assert loud.missed


def test_fans_that_make_it_quieter_are_not_believed() -> None:
    found = gives(f"{ROOM}{typed(on=HUSH, off=QUIET)}")
    assert "louder with the fans off than on, by 40 dB" in found.answer[0]
    assert [cause.key for cause in found.causes] == ["swapped"]


def test_readings_under_the_microphone_s_own_noise_are_not_believed() -> None:
    found = gives(f'{ROOM}{typed(on=HUSH)}self_noise = "50 dBA"')
    assert "quieter than the microphone itself at" in found.answer[0]
    assert "self_noise is wrong" in found.answer[0]


def test_a_rating_under_every_curve_has_no_endless_figure() -> None:
    found = gives(f"{ROOM}{typed(on=[0.0] * 8)}self_noise = {[-20.0] * 8}", plan=TARGET)
    assert "under NC 15" in found.answer[0]
    assert "inf" not in " ".join(found.answer)


def test_what_would_do_is_not_asked_for_bands_that_are_proven() -> None:
    on = [20.0, 16.0, 14.0, 14.0, 14.0, 15.0, 15.0, 15.0]
    found = gives(f"{ROOM}{typed(on=on)}self_noise = {[18.0, 15, 13.5, 13, 13.5, 14.5, 15.5, 16.5]}", plan=TARGET)
    told = next(words for words in found.answer if words.startswith("What would do"))
    assert "63 Hz" not in told
    assert "125 Hz" not in told


def test_a_still_vane_and_a_gauge_at_zero_are_not_no_air() -> None:
    """What reads nothing may be too weak to be read: the range is not empty, and nothing is offered."""
    for way in ('traverse = { speeds = ["0 m/s", "0 m/s"], size = "160 mm" }', 'box_pressure = "0 Pa"'):
        found = gives(f'is = "air flow"\nrun = "vent"\n{way}')
        assert found.singles[0].high > 0.0
        assert found.paste is None


@pytest.mark.parametrize(
    ("way", "words"),
    [
        ('bag = { volume = "2 m3", times = ["1.1 s"] }', "more than the"),
        ('bag = { volume = "120 L", times = ["8 s", "80 s"] }', "the bag took 8 to 80 s"),
        (
            'bag = { volume = "120 L", times = ["8 s"] }\ntraverse = { speeds = ["4 m/s"], size = "160 mm" }',
            "disagree",
        ),
    ],
)
def test_doubtful_flows_are_told_and_not_written_down(way: str, words: str) -> None:
    found = gives(f"{AIR}{way}")
    assert any(words in flag for flag in found.flags)
    assert found.paste is None


def test_a_measured_flow_of_nothing_is_refused() -> None:
    with pytest.raises(PlanError, match="carries nothing is no measured flow"):
        written(HOUSE.replace('to = "there"\nsize', 'to = "there"\nmeasured = "0 L/s"\nsize'))


RING = 'is = "reverberation"\nroom = "here"\nsweep = "a.wav"\nsweep_time = "6 s"\n'


def rung(folder: Path, seconds: float) -> Measurement:
    """A sweep in a room that rings so long, or in none."""
    sweep = sweep_signal(6.0, float(RATE))
    wave = sweep
    if seconds:
        t = np.arange(round(1.2 * seconds * RATE)) / RATE
        room = np.random.default_rng(3).standard_normal(t.size) * 10.0 ** (-3.0 * t / seconds)
        wave = np.fft.irfft(np.fft.rfft(sweep, 2**20) * np.fft.rfft(room, 2**20))[: sweep.size]
    recorded(folder, 0.3 * wave / np.abs(wave).max())
    return gives(RING, folder)


def test_the_signal_itself_does_not_ring(tmp_path: Path) -> None:
    """The sweep played without any room: whatever its filters ring is a bound, no time of a room."""
    times = rung(tmp_path, 0.0).rows[0].levels.octaves
    assert not times.valued.any()
    assert all(len(text) < 5 for text in marked(times, 2))


def test_a_room_that_rings_longer_than_predicted_is_told(tmp_path: Path) -> None:
    """And its table keeps its columns apart."""
    found = rung(tmp_path, 4.0)
    assert any("It rings longer than predicted at" in words for words in found.answer)
    lines = measured_text(written(f"{HOUSE}\n[test.t]\n{RING}"), found).splitlines()
    rows = [line for line in lines if line.startswith("  ") and "  measured" in line]
    assert any("measured over predicted" in line for line in rows)
    assert all(len(line.split()) >= 10 for line in rows)
    assert max(map(len, lines)) <= 100


def test_what_no_room_rings_is_no_time(tmp_path: Path) -> None:
    """A sweep of another length than is said leaves what looks like endless decays."""
    recorded(tmp_path, 0.3 * sweep_signal(10.0, float(RATE)))
    try:
        found = gives(RING.replace("6 s", "5 s"), tmp_path)
    except PlanError:
        return
    assert not np.nanmax(np.append(found.rows[0].levels.octaves.level, 0.0)) > 10.0


def test_a_sweep_read_as_steady_noise_agrees_with_nothing(tmp_path: Path) -> None:
    sweep = np.concatenate([sweep_signal(4.0, float(RATE)), np.zeros(4 * RATE)])
    for name, gain in (("a.wav", 0.5), ("b.wav", 0.3)):
        recorded(tmp_path, gain * sweep, name)
    recorded(tmp_path, 1e-4 * NOISE, "c.wav")
    found = gives(f'{LOSS}without = "a.wav"\nwith = "b.wav"\nbackground = "c.wav"', tmp_path)
    assert any('write signal = "sweep"' in flag for flag in found.flags)
    assert not any("agrees with the prediction" in words for words in found.answer)
    assert found.paste is None


def test_the_line_to_write_down_is_no_longer_than_a_line() -> None:
    levels = {"without": [80.0] * 9, "background": [0.0] * 9}
    found = gives(f"{LOSS}{typed(**levels)}with = {{ octaves = {[60.3] * 9} }}")
    assert found.paste is not None
    assert len(found.paste[1]) <= 98
    assert '"31.5"=20, 63=20' in found.paste[1]


def test_an_inch_project_gets_an_inch_line_and_a_long_name_a_short_title() -> None:
    plan = 'units = "inch"\n' + HOUSE
    stated = f'{AIR}bag = {{ volume = "4 ft3", times = ["8 s"] }}'
    found = gives(stated, plan=plan)
    assert found.paste is not None
    assert found.paste[1] == 'measured = "30.0 cfm"'
    name = "very " * 30 + "long"
    text = f'{plan}\n[test."{name}"]\n{stated}'
    wide = measured_text(written(text), measure(written(text), name, Path()))
    assert max(map(len, wide.splitlines())) <= 100


def test_bands_that_nobody_read_are_not_the_microphone_s_fault() -> None:
    found = gives(f'{ROOM}on = {{ thirds = {{ 63 = 30 }} }}\nself_noise = "18 dBA"', plan=TARGET)
    assert not any(words.startswith("What would do") for words in found.answer)
