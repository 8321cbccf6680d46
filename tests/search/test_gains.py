"""What helps is worked out by asking the changed plan again: every figure is what that plan then answers."""

from __future__ import annotations

import pytest

from sordino.assess.assessment import Assessment, assess
from sordino.assess.fit import fits
from sordino.report.gains import gain_words
from sordino.search.gains import Gains, gains
from sordino.search.help import helping
from structures import asked, assessed, booth

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
    words = gain_words(found, mine.finding, helping(found, ("normal",)))
    assert "a gasket instead of screws at leaf 1 of ceiling: 1 leaf instead of 2 leaves" in words


def test_a_lift_too_heavy_takes_more_hands_or_less_at_once() -> None:
    found = assessed(('way = ["hatch"]', 'brought = "whole"'))
    mine = helped(found, "lifting")
    assert mine.best[0].words == "built in place from its boards"
    assert mine.best[0].meets
    assert mine.best[0].after == pytest.approx(7.17, abs=0.01)


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
    (gain,) = mine.best
    assert gain.words == "the damper at the other end of the run"
    assert gain.after != gain.before
    moved = (
        '{ is = "lined box", box = "muffler" }',
        '{ is = "lined box", box = "muffler" }, { is = "damper", angle = "40 deg" }',
    )
    again = assessed(moved)
    assert gain.after == pytest.approx(again.noise["booth", "normal"].rating.value, abs=0.3)


def test_what_stands_well_is_left_alone() -> None:
    found = assessed()
    assert not helping(found, ("normal",)).gains or all(
        each.finding.missed for each in helping(found, ("normal",)).gains
    )
    met = next(asked(found, "fit"))
    assert gain_words(found, met, helping(found, ("normal",))) == ""
