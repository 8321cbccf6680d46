"""Each kind of test against values worked by hand: noise, ways, decay, air."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import numpy as np
import pytest
import soundfile

import tested
from boxed import plan_text
from small import FAN, ROOMS, between, written
from sordino.assess.assessment import assess
from sordino.assess.box_answer import indoor_air
from sordino.elements.built_box import BuiltBox
from sordino.errors import PlanError
from sordino.measure.chain import microphone_response, own_noise, scale
from sordino.measure.flow import bagged, by_pressure, traversed
from sordino.measure.kit import pink_noise, sweep_signal, tone
from sordino.measure.measurement import measure
from sordino.measure.noise import span
from sordino.measure.transmission import ratings, vent_roles
from sordino.physics.signal.background import AT_LEAST, AT_MOST, Reading, reading
from sordino.physics.signal.thirds import CENTRES, THIRDS
from sordino.physics.sound.weighting import a_weighting
from sordino.plan.test import AirFlow, Chain, RoomNoise
from tested import house

RATE = 48000.0
FULL = 120.0
"""Level of a sine that fills a recording, in these tests, dB."""
TWO_ROOMS = house('{ is = "metal duct", length = "2 m", lining = "25 mm" }')
gives = partial(tested.gives, plan=TWO_ROOMS)


def saved(folder: Path, name: str, wave: np.ndarray) -> None:
    """A recording at 48 kHz."""
    soundfile.write(folder / name, wave, int(RATE), subtype="FLOAT")


# ------------------------------------------------------------------ noise

ON = [50.0, 45.0, 40.0, 35.0, 30.0, 25.0, 20.0, 18.0]
OFF = [35.0, 30.0, 25.0, 20.0, 15.0, 18.0, 15.0, 15.0]


def test_noise_by_a_calibrator_and_by_full_scale(tmp_path: Path) -> None:
    """A tone of 94 dB reads -26 dB re full scale; noise recorded 20 dB weaker is at 74 dB, by either statement."""
    saved(tmp_path, "cal.wav", 0.5 * np.sqrt(2) * tone(12.0, RATE))  # -20 - 3 dB, of a sine of -20 dB
    saved(tmp_path, "noise.wav", pink_noise(30.0, RATE))
    level = {"calibrator": -20.0 - 3.01, "full_scale": -3.01}
    for how, known in {"calibrator": 94.0, "full_scale": FULL}.items():
        stated = (
            'calibrator = { file = "cal.wav", level = "94 dB" }' if how == "calibrator" else 'full_scale = "120 dB"'
        )
        found = gives(f'is = "room noise"\nroom = "here"\non = "noise.wav"\n{stated}\n', tmp_path)
        heard = found.rows[0].levels.octaves.level[1:]
        assert heard == pytest.approx(np.full(8, -20.0 - 10.0 * np.log10(10.0) - level[how] + known), abs=0.7)
        assert found.rows[0].levels.octaves.half.min() > 1.0


def test_noise_of_an_unknown_level_is_refused(tmp_path: Path) -> None:
    saved(tmp_path, "noise.wav", pink_noise(5.0, RATE))
    with pytest.raises(PlanError, match=r"test\.t: the level of its recordings is not known\. Add calibrator"):
        gives('is = "room noise"\nroom = "here"\non = "noise.wav"\n', tmp_path)


def test_fans_alone_by_hand() -> None:
    """On minus off in energy: 50 and 35 dB need no correction; 20 and 15 dB leave at most 18.7 dB."""
    found = gives(f'is = "room noise"\nroom = "here"\non = {{ octaves = {ON} }}\noff = {{ octaves = {OFF} }}\n')
    alone = found.rows[2].levels.octaves
    assert found.rows[2].label == "fans alone"
    assert alone.level[1:] == pytest.approx([50.0, 45.0, 40.0, 35.0, 30.0, 24.03, 18.7, 16.7], abs=0.01)
    assert alone.bound[1:].tolist() == [0, 0, 0, 0, 0, 0, AT_MOST, AT_MOST]
    assert any("own noise is not stated" in sentence for sentence in found.answer)


def test_a_microphone_as_loud_as_the_target_proves_nothing() -> None:
    """What it reads is its own noise: a bound in every band, and no figure better than that."""
    own = [20.0, 18.0, 16.0, 15.0, 15.0, 16.0, 17.0, 18.0]
    plan = TWO_ROOMS.replace("[room.here]", '[room.here]\ntarget = "NC-15"')
    stated = f'is = "room noise"\nroom = "here"\non = {{ octaves = {own} }}\nself_noise = {own}\n'
    found = gives(stated, plan=plan)
    assert (found.rows[0].levels.octaves.bound[1:] == AT_MOST).all()
    rated = next(one for one in found.singles if one.unit == "NC")
    assert rated.bound == "at most"
    assert any("no recording with it can prove NC 15 at 2 kHz, 4 kHz and 8 kHz" in words for words in found.answer)
    assert not found.missed


def test_a_target_that_is_proven_and_one_that_is_missed() -> None:
    """10 dB over and under NC 25 in every band, well over the microphone."""
    curve = np.array([54, 44, 37, 31, 27, 24, 22, 22.0])
    plan = TWO_ROOMS.replace("[room.here]", '[room.here]\ntarget = "NC-25"')
    for shift, words in ((-10.0, "NC 25 is proven in every band."), (10.0, "NC 25 is missed at 63 Hz")):
        on = (curve + shift).tolist()
        stated = f'is = "room noise"\nroom = "here"\non = {{ octaves = {on} }}\nself_noise = {[-9.0] * 8}\n'
        found = gives(stated, plan=plan)
        assert any(words in sentence for sentence in found.answer)
        assert found.missed or shift < 0.0


def test_self_noise_in_one_figure() -> None:
    """18 dBA of noise alike at every frequency adds up to 18 dBA again."""
    found = own_noise(Chain.model_validate({"self_noise": "18 dBA"}))
    assert found is not None
    weighted = found.thirds.level + a_weighting(CENTRES)
    assert 10.0 * np.log10((10.0 ** (weighted / 10.0)).sum()) == pytest.approx(18.0)


def test_the_rating_of_bounds() -> None:
    """All at most: no least. One loud value under quiet bounds rates as itself."""
    level = np.array([np.nan, 47, 36, 28, 22, 18, 14, 12, 11.0])
    found = span(Reading(level=level, half=np.zeros(9), bound=np.full(9, AT_MOST)), "NC")
    assert found is not None
    assert found[1] == -np.inf
    assert found[2] == pytest.approx(15.0)
    assert span(reading(np.full(9, np.nan)), "NC") is None


# ------------------------------------------------------------------ microphone


def test_a_calibration_file(tmp_path: Path) -> None:
    """Comments, commas and tabs are taken; what the microphone adds is taken off."""
    (tmp_path / "mic.txt").write_text('"Sens -1.2 dB"\n* made up\n20\t-3.0\n100,0.0\n1000  0.0 90\n10000 ; 4.0\n')
    found = microphone_response(tmp_path / "mic.txt")
    assert found[16] == pytest.approx(0.0)
    assert found[26] == pytest.approx(4.0)
    assert found[21] == pytest.approx(2.0, abs=0.01)
    flat = scale(Chain.model_validate({"full_scale": "120 dB"}), tmp_path)
    told = scale(Chain.model_validate({"full_scale": "120 dB", "microphone": "mic.txt"}), tmp_path)
    assert told.gain == pytest.approx(flat.gain - found)
    assert told.half < flat.half


@pytest.mark.parametrize("text", ["", "no numbers\n", "1000 0\n"])
def test_no_calibration_file(tmp_path: Path, text: str) -> None:
    (tmp_path / "mic.txt").write_text(text)
    with pytest.raises(PlanError, match="no calibration file of a microphone"):
        microphone_response(tmp_path / "mic.txt")


def test_a_calibrator_that_is_not_there(tmp_path: Path) -> None:
    saved(tmp_path, "cal.wav", pink_noise(5.0, RATE))
    with pytest.raises(PlanError, match="no calibrator's tone stands out"):
        scale(Chain.model_validate({"calibrator": {"file": "cal.wav"}}), tmp_path)


# ------------------------------------------------------------------ ways


def test_where_the_vent_makes_no_difference() -> None:
    """By band: 12 dB louder, 3 dB, nothing, nothing over a background 3 dB under it, nothing known."""
    opened = reading([60.0, 60.0, 60.0, 40.0, np.nan] + [60.0] * 4, 0.5)
    plugged = reading([48.0, 57.0, 59.8, 39.8, 40.0] + [30.0] * 4, 0.5)
    background = reading([20.0, 20.0, 20.0, 37.0, 20.0] + [20.0] * 4, 0.5)
    assert vent_roles(opened, plugged, background)[:5] == ("the limit", "part of it", "not the limit", "hidden", "")
    assert vent_roles(opened, plugged, None)[2] == "hidden"


def test_the_way_by_the_vent_alone() -> None:
    """Source 90, open 60, plugged 57: the vent alone is an at least; plugged at 40 it takes 30 dB."""
    eight = [60.0] * 8
    stated = (
        'is = "vent"\nfrom = "there"\nto = "here"\n'
        f"source = {{ octaves = {[90.0] * 8} }}\nopen = {{ octaves = {eight} }}\n"
        f"plugged = {{ octaves = {[57.0] * 4 + [40.0] * 4} }}\nbackground = {{ octaves = {[10.0] * 8} }}\n"
    )
    found = gives(stated)
    alone = found.rows[2].levels.octaves
    assert alone.bound[1:].tolist() == [AT_LEAST] * 4 + [0] * 4
    assert alone.level[5:] == pytest.approx([30.0] * 4)
    assert alone.level[1] == pytest.approx(90.0 - 60.0 + 1.3)
    assert found.rows[2].predicted is not None
    assert "The vent carries part of the sound at 63 Hz, 125 Hz, 250 Hz and 500 Hz" in found.answer[1]


def test_the_vent_is_not_the_limit() -> None:
    """Open and plugged alike, far over the background: it says so, and what to test next."""
    level = f"{{ octaves = {[50.0] * 8} }}"
    stated = f'is = "vent"\nfrom = "there"\nto = "here"\nsource = {{ octaves = {[90.0] * 8} }}\nopen = {level}\n'
    found = gives(f"{stated}plugged = {level}\nbackground = {{ octaves = {[10.0] * 8} }}\n")
    assert found.answer[0].startswith("The vent is not the limit at 63 Hz")
    assert "Test next" in found.answer[0]


def test_a_level_difference_and_its_ratings() -> None:
    """All thirds 40 dB apart: NIC by the contour of E413 is 36 (deficiencies 0 1 2 3 4 4 … = 30, none over 8)."""
    same = [80.0] * THIRDS
    quiet = [40.0] * THIRDS
    stated = f'is = "level difference"\nfrom = "there"\nto = "here"\nsource = {{ thirds = {same} }}\n'
    found = gives(f"{stated}received = {{ thirds = {quiet} }}\nbackground = {{ thirds = {[0.0] * THIRDS} }}\n")
    assert found.rows[0].levels.thirds.level == pytest.approx(np.full(THIRDS, 40.0))
    nic = next(one for one in found.singles if one.label == "NIC")
    short = np.array([0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4])
    least = max(rating for rating in range(60) if np.maximum(short + rating - 40, 0).sum() <= 32)
    assert nic.value == least


def test_ratings_need_their_bands() -> None:
    """One third unknown, no rating; one at least, the rating is one."""
    level = np.full(THIRDS, 40.0)
    bound = np.zeros(THIRDS, int)
    bound[12] = AT_LEAST
    found = ratings(Reading(level=level, half=np.zeros(THIRDS), bound=bound))
    assert [one.bound for one in found] == ["at least", "at least"]
    level[12] = np.nan
    assert ratings(reading(level)) == ()


def test_the_loss_of_a_run() -> None:
    """A lined duct instead of a bare tube, beside the handbook's loss of its parts; one thing at a time."""
    level = f"without = {{ octaves = {[80.0] * 8} }}\nwith = {{ octaves = {[70.0] * 8} }}\n"
    quiet = f"background = {{ octaves = {[0.0] * 8} }}\n"
    found = gives(f'is = "insertion loss"\nrun = "vent"\n{level}{quiet}')
    assert found.rows[0].levels.octaves.level[1:] == pytest.approx([10.0] * 8)
    said = found.rows[0].predicted
    assert said is not None
    plan = written(TWO_ROOMS)
    whole = sum(part.attenuation(indoor_air(plan)) for part in plan.run["vent"].parts)
    assert said.level == pytest.approx(np.asarray(whole), nan_ok=True)
    assert found.paste is None
    with pytest.raises(PlanError, match="that of one thing"):
        gives(f'is = "insertion loss"\n{level}{quiet}')


# ------------------------------------------------------------------ decay


def test_a_room_that_rings(tmp_path: Path) -> None:
    """A sweep through noise that decays in 0.5 s; mean of two positions within what chance allows, 31.5 Hz aside."""
    sweep = sweep_signal(6.0, RATE)
    for name, seed in (("a.wav", 1), ("b.wav", 2)):
        t = np.arange(48000) / RATE
        room = np.random.default_rng(seed).standard_normal(t.size) * 10.0 ** (-3.0 * t / 0.5)
        wave = np.fft.irfft(np.fft.rfft(sweep, 2**20) * np.fft.rfft(room, 2**20))[: sweep.size]
        saved(tmp_path, name, 0.3 * wave / np.abs(wave).max())
    stated = 'is = "reverberation"\nroom = "here"\nsweep = ["a.wav", "b.wav"]\nsweep_time = "6 s"\n'
    found = gives(stated, tmp_path).rows[0].levels.octaves
    assert found.level[4:] == pytest.approx(np.full(5, 0.5), rel=0.06)
    assert (np.abs(found.level[2:] - 0.5) <= 2.0 * found.half[2:]).all()


def test_another_sweep_is_no_decay(tmp_path: Path) -> None:
    """A sweep of another length, or none, is refused, not read as a room."""
    saved(tmp_path, "a.wav", sweep_signal(4.0, RATE))
    with pytest.raises(PlanError, match="no sweep of that length stands out"):
        gives('is = "reverberation"\nroom = "here"\nsweep = "a.wav"\nsweep_time = "7 s"\n', tmp_path)


def test_typed_and_recorded_levels_do_not_mix(tmp_path: Path) -> None:
    """Unless the recordings' level is known."""
    saved(tmp_path, "a.wav", pink_noise(5.0, RATE))
    stated = f'is = "level difference"\nfrom = "there"\nto = "here"\nsource = {{ octaves = {[90.0] * 8} }}\n'
    with pytest.raises(PlanError, match=r"a\.wav: its level can't be held against levels typed"):
        gives(f'{stated}received = "a.wav"\n', tmp_path)
    found = gives(f'{stated}received = "a.wav"\nfull_scale = "70 dB"\n', tmp_path)
    assert np.isfinite(found.rows[0].levels.octaves.level[1:]).all()


# ------------------------------------------------------------------ air


def test_a_traverse_and_a_bag() -> None:
    """0.3 m/s through 0.25 x 0.2 m, four fifths of it free, is 12 L/s; 120 L in 8 s is 15 L/s."""
    stated = {"is": "air flow", "run": "way", "mode": None}
    test = AirFlow.model_validate(
        stated
        | {"traverse": {"speeds": ["0.3 m/s"] * 4, "size": "250 x 200 mm", "free": 0.8}}
        | {"bag": {"volume": "120 L", "times": ["8 s", "8 s"]}}
    )
    assert test.traverse is not None
    assert test.bag is not None
    assert traversed(test.traverse) == pytest.approx((0.012, 0.04 * np.hypot(0.15 * 0.3, 0.05)))
    assert bagged(test.bag) == pytest.approx((0.015, 0.015 * np.hypot(0.1, 0.3 / 8.0)))


def test_the_pressure_across_a_box() -> None:
    """The flow that is found loses the pressure that was read."""
    found = assess(written(plan_text("straight")), fields=False)
    box = next(part for part in found.plan.run["way"].parts if isinstance(part, BuiltBox))
    flow, half = by_pressure(box, 3.0, found.air)
    assert box.pressure_loss(flow, found.air) == pytest.approx(3.0, rel=1e-6)
    least, _ = by_pressure(box, 2.5, found.air)
    assert half == pytest.approx(np.hypot(0.1 * flow, flow - least))  # a gauge's half pascal
    assert by_pressure(box, 0.0, found.air)[1] > 0.0


def test_a_flow_beside_the_network() -> None:
    """Half of what was predicted: told, with causes, the cheapest test first."""
    plan = written(plan_text("straight"))
    said = assess(plan).state("normal").flows["way"]
    times = f'bag = {{ volume = "120 L", times = ["{0.24 / said:.2f} s"] }}'
    text = f'{plan_text("straight")}\n[test.t]\nis = "air flow"\nrun = "way"\n{times}\n'
    found = measure(written(text), "t", Path())
    assert found.singles[0].value == pytest.approx(said / 2.0, rel=0.01)
    assert found.missed
    assert found.causes[0].key == "speed"
    assert found.paste is not None
    assert found.paste[0] == "run.way"


# ------------------------------------------------------------------ as measured, in the assessment


def test_a_measured_flow_is_taken() -> None:
    """The network is fitted to it, and a finding says so."""
    plain = between('{ is = "metal duct", length = "3 m" }').model_copy()
    bare = assess(plain).state("normal").flows["way"]
    text = f"{ROOMS.replace('height', chr(10).join(['leakage = ' + chr(34) + '400 m³/h' + chr(34), 'height']))}{FAN}"
    text += '\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n'
    free = assess(written(text)).state("normal").flows["way"]
    assert free > bare
    wanted = 0.6 * free
    found = assess(written(f'{text}measured = "{1000.0 * wanted:.3f} L/s"\n'))
    assert found.state("normal").flows["way"] == pytest.approx(wanted, rel=2e-3)
    told = [each.sentence for each in found.findings if each.question == "data" and "as measured" in each.sentence]
    assert len(told) == 1


def test_a_measured_loss_and_dimension_are_taken() -> None:
    """The bands that were measured stand, the others stay; the notes say which."""
    text = plan_text("straight") + 'measured = { 125 = 7.5, 1k = 31 }\nas_built = { length = "0.78 m" }\n'
    found = assess(written(text))
    box = next(part for part in found.plan.run["way"].parts if isinstance(part, BuiltBox))
    other = assess(written(plan_text("straight") + 'as_built = { length = "0.78 m" }\n'))
    drawn = next(part for part in other.plan.run["way"].parts if isinstance(part, BuiltBox))
    loss, was = box.attenuation(found.air), drawn.attenuation(found.air)
    assert loss[[2, 5]] == pytest.approx([7.5, 31.0])
    kept = [0, 1, 3, 4, 6, 7, 8]
    assert loss[kept] == pytest.approx(was[kept])
    assert box.build.length == pytest.approx(0.78)
    notes = [each.sentence for each in found.findings if each.question == "data"]
    assert any("loss as measured in place at 125 Hz and 1 kHz" in note for note in notes)
    assert any("length 780 mm as measured (drawn 800 mm)" in note for note in notes)


def test_a_test_is_read_whole() -> None:
    """A reading that is nothing, or two things, is refused where it stands."""
    for reading_, told in (
        ("{}", "gives nothing"),
        ('{ file = "a.wav", octaves = [1,1,1,1,1,1,1,1] }', "file and oct"),
    ):
        with pytest.raises(PlanError, match=told):
            written(f'{TWO_ROOMS}\n[test.t]\nis = "room noise"\nroom = "here"\non = {reading_}\n')
    with pytest.raises(PlanError, match=r"there is no room 'hear'.*Did you mean here"):
        written(f'{TWO_ROOMS}\n[test.t]\nis = "room noise"\nroom = "hear"\non = "a.wav"\n')
    assert RoomNoise.model_validate({"is": "room noise", "room": "here", "on": "a.wav"}).on[0].file == "a.wav"
