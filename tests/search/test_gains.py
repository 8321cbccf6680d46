"""What helps is worked out by asking the changed plan again: every figure is what that plan then answers."""

from __future__ import annotations

import pytest

from sordino.assess.assessment import Assessment, assess
from sordino.assess.fit import fits
from sordino.assess.wording import rating_words
from sordino.report.gains import gain_advice
from sordino.search.gains import Gains, gains
from sordino.search.help import helping
from structures import asked, assessed, booth, missed

HUNG = 'hung = { from = "loft", screw = "lag screw", diameter = "6.35 mm", thread = "50 mm", deflection = "10 mm" }'
WEAK = HUNG.replace("lag screw", "wood screw").replace("6.35 mm", "4 mm").replace("50 mm", "8 mm")


def helped(found: Assessment, question: str, unit: str | None = None) -> Gains:
    """What helps the one finding of a question that is missed."""
    (finding,) = (each for each in asked(found, question, unit) if each.missed)
    made = gains(found, finding)
    assert made is not None
    return made


def test_stronger_screws_are_tried_and_told_with_their_load() -> None:
    found = assessed((HUNG, WEAK))
    mine = helped(found, "hanging", "N")
    assert mine.best[0].meets
    assert mine.best[0].words.startswith("lag screws of 8 mm")
    strong = HUNG.replace("6.35 mm", "8 mm")
    again = assessed((HUNG, strong))
    (then,) = asked(again, "hanging", "N")
    assert mine.best[0].after == pytest.approx(then.value)
    assert mine.best[0].limit == pytest.approx(then.limit)


def test_joists_that_bend_too_far() -> None:
    found = assessed(('span = "3.66 m"', 'span = "5.2 m"'), ('dead = "24 kg/m2"', 'dead = "45 kg/m2"'))
    mine = helped(found, "hanging", "%")
    assert mine.best
    assert all(gain.after < gain.before for gain in mine.best)


def test_a_box_too_high_is_offered_a_height_at_which_it_fits() -> None:
    low = (
        '[["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]]',
        '[["0 m", "0 m"], ["0.8 m", "0 m"], ["0.8 m", "0.5 m"], ["0 m", "0.5 m"]]',
    )
    found = assessed(low)
    mine = helped(found, "fit")
    lower = next(gain for gain in mine.best if "inside height" in gain.words)
    assert lower.meets
    height = lower.words.removeprefix("an inside height of ")
    (fit,) = fits(booth(low, ('height = "0.40 m"', f'height = "{height}"')))
    assert fit.fits
    assert lower.after == pytest.approx(fit.has["height"])


def test_a_bridge_is_undone_by_either_side() -> None:
    found = assessed(('by = "gasket"', 'by = "screws"'), (', deflection = "10 mm"', ""))
    mine = helped(found, "bridge")
    assert [gain.meets for gain in mine.best] == [True, True]
    words = gain_advice(found, mine.finding, helping(found, ("normal",))).sentence
    assert "a gasket instead of screws at leaf 1 of ceiling: 1 leaf instead of 2 leaves" in words


def test_a_lift_too_heavy_takes_more_hands_or_less_at_once() -> None:
    found = assessed(('way = ["hatch"]', 'brought = "whole"'))
    mine = helped(found, "lifting")
    assert mine.best[0].words == "built in place from its boards"
    assert mine.best[0].meets
    assert mine.best[0].after == pytest.approx(6.968, abs=0.01)


def test_make_up_air_is_let_in() -> None:
    fresh = booth_without_supply()
    mine = helped(fresh, "safety", "m3/s")
    assert mine.best[0].words.startswith("a bare make-up duct of 160 mm")
    assert mine.best[0].after < 0.5 * mine.best[0].before


def booth_without_supply() -> Assessment:
    """The booth with a fan that only takes out, under a loft with an open flue."""
    from assess.test_safety import FRESH, HEATER

    return assess(booth(("[opening.hatch]", HEATER), (FRESH, "")))


def test_a_damper_moved_away_changes_what_is_heard() -> None:
    found = assessed(('parts = [{ is = "grille" }', 'parts = [{ is = "grille" }, { is = "damper", angle = "40 deg" }'))
    mine = helped(found, "safety")
    gain, without = mine.best
    assert gain.words == "the damper at the other end of the run"
    assert without.words == "no damper at the grille"
    assert (gain.before, gain.after, gain.meets) == (1.0, 0.0, True)
    moved = (
        '{ is = "lined box", box = "muffler" }',
        '{ is = "lined box", box = "muffler" }, { is = "damper", angle = "40 deg" }',
    )
    again = assessed(moved)
    assert not missed(again, "safety")
    then = rating_words(again.noise["booth", "normal"]).split(" (")[0]
    now = rating_words(found.noise["booth", "normal"])
    assert gain.cost.startswith(f"Booth then has {then}")
    assert gain.cost.endswith(f"instead of {now}")


def test_what_stands_well_is_left_alone() -> None:
    found = assessed()
    assert not helping(found, ("normal",)).gains or all(
        each.finding.missed for each in helping(found, ("normal",)).gains
    )
    met = next(asked(found, "fit"))
    assert gain_advice(found, met, helping(found, ("normal",))).sentence == ""


def words_for(found: Assessment, question: str, unit: str | None = None) -> str:
    """What is printed after the one finding of a question that is missed."""
    (finding,) = (each for each in asked(found, question, unit) if each.missed)
    return gain_advice(found, finding, helping(found, ("normal",))).sentence


def test_weak_joists_and_ringing_hangers_are_told_in_words() -> None:
    """A share in percent and a frequency, in both systems."""
    for more in ((), (("[room.booth]", 'units = "inch"\n[room.booth]'),)):
        weak = assessed(('dead = "24 kg/m2"', 'dead = "280 kg/m2"'), *more)
        assert " %" in words_for(weak, "hanging", "%")
        ringing = assessed(('deflection = "10 mm"', 'deflection = "3 mm", turns = "12 Hz"'), *more)
        assert " Hz of 4.0 Hz instead of 9.1 Hz" in words_for(ringing, "hanging", "Hz")


def test_above_reach_a_hoist_is_what_helps() -> None:
    high = assessed(("lift = { persons = 2 }", 'lift = { persons = 3, to = "2.0 m" }'))
    assert words_for(high, "lifting") == " What helps most: a hoist or panel lift rated for it."


def test_a_wrap_too_thick_is_made_as_thin_as_goes_in() -> None:
    bay = (
        'profile = [["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]]',
        'width = "0.7 m", height = "0.65 m"',
    )
    by_stand = ("[stand.muffler]", '[stand.muffler]\nwrap = "300 mm"')
    by_box = ("passes = 1", 'passes = 1\nwrap = { r = "4.2 m2K/W" }')
    for said in (by_stand, by_box):
        found = assessed(bay, said)
        mine = helped(found, "fit")
        assert mine.best[0].words == "45 mm of insulation round it", "0.65 m less 0.472 m and 80 mm, halved"
        assert mine.best[0].meets


def test_only_what_is_enough_is_told_where_something_is() -> None:
    found = assessed((HUNG, WEAK))
    mine = helped(found, "hanging", "N")
    assert all(gain.meets for gain in mine.best)


def test_a_machine_gets_no_help_meant_for_a_box() -> None:
    """A metre cube and a hatch of 0.62 m by 0.55 m: two sides are too much, by 0.38 m and 0.45 m."""
    cube = '[stand.fan]\nmass = "20 kg"\noutside = ["1 m", "1 m", "1 m"]\nway = ["hatch"]\n[stand.muffler]'
    found = assessed(("[stand.muffler]", cube))
    (told,) = (each for each in asked(found, "fit") if each.missed)
    assert "its middle side 380 mm and its shortest side 450 mm too much" in told.sentence
    assert (told.value, told.limit) == (1.0, 0.55)
    assert gain_advice(found, told, helping(found, ("normal",))).sentence == ""


def test_a_smaller_box_tells_that_its_duct_then_kinks() -> None:
    folded = (('family = "straight"', 'family = "serpentine"'), ("passes = 1", "passes = 2"),
              ('height = "0.40 m"', 'height = "0.70 m"'), ('lining = "50 mm"\n', ""))  # fmt: skip
    low = ('profile = [["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]]', 'width = "0.7 m", height = "0.76 m"')
    mine = helped(assessed(*folded, low), "fit")
    lower = next(gain for gain in mine.best if "inside height" in gain.words)
    assert "may kink" in lower.cost
