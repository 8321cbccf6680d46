"""Hangers, joists and isolators, each against a few lines of arithmetic."""

from __future__ import annotations

import pytest

from sordino.assess.hanging import bearings, hangs
from sordino.assess.weight import weights
from sordino.physics.structure.screws import PER_INCH
from structures import asked, assessed, booth, missed

G = 9.80665
HUNG = 'hung = { from = "loft", screw = "lag screw", diameter = "6.35 mm", thread = "50 mm", deflection = "10 mm" }'


def test_each_of_four_hangers_carries_a_quarter_of_a_box_alike_all_round() -> None:
    plan = booth()
    (hang,) = hangs(plan, weights(plan))
    assert hang.loads == pytest.approx([hang.mass * G / 4.0] * 4)
    per_inch = 1800.0 * 0.42**1.5 * 0.25**0.75
    assert hang.may_carry == pytest.approx(per_inch * PER_INCH * 0.050 * 0.9, rel=1e-6)
    assert hang.ringing == pytest.approx(15.76 / 10.0**0.5, rel=1e-3)


def test_what_hangs_with_it_and_more_screws_count() -> None:
    plan = booth((HUNG, HUNG.replace(" }", ', extra = "12 kg", screws = 2, hangers = 6 }')))
    (hang,) = hangs(plan, weights(plan))
    (plain,) = hangs(booth(), weights(booth()))
    assert hang.mass == pytest.approx(plain.mass + 12.0)
    assert hang.may_carry == pytest.approx(2.0 * plain.may_carry)
    assert hang.load == pytest.approx(hang.mass * G / 6.0)


def test_joists_bear_the_ceiling_and_their_share_of_the_box() -> None:
    """M = w L2/8 + P L/4 with half the box in the middle of one joist; S and I by hand."""
    plan = booth()
    found = hangs(plan, weights(plan))
    (bearing,) = bearings(plan, found)
    line, force, span = 24.0 * G * 0.4, found[0].mass * G / 2.0, 3.66
    stress = (line * span**2 / 8.0 + force * span / 4.0) / (0.038 * 0.140**2 / 6.0)
    allowed = 875.0 * 6894.757 * 1.2 * 1.15 * 0.9  # 140 mm is over 5.5 in, so the factor of the next depth holds
    assert bearing.used == pytest.approx(stress / allowed, rel=1e-4)
    stiffness = 1.4e6 * 6894.757 * 0.038 * 0.140**3 / 12.0
    sag = 5.0 * line * span**4 / (384.0 * stiffness) + force * span**3 / (48.0 * stiffness)
    assert bearing.sag == pytest.approx(sag, rel=1e-4)
    assert bearing.added == pytest.approx(found[0].mass / 2.0 / (0.4 * span))


def test_joists_far_apart_do_not_help_one_another() -> None:
    """Over 24 in the repetitive-member factor of 1.15 is not theirs (National Design Specification 4.3.9)."""
    near, far = (booth(('spacing = "400 mm"', f'spacing = "{spacing}"')) for spacing in ("0.609 m", "0.611 m"))
    used = [bearings(plan, hangs(plan, weights(plan)))[0].used for plan in (near, far)]
    assert used[1] / used[0] == pytest.approx(1.15, rel=5e-3)


def test_two_things_on_the_same_joists_count_together() -> None:
    sized = 'mass = "30 kg"\noutside = ["0.4 m", "0.4 m", "0.3 m"]'
    second = f'[stand.fan]\n{sized}\nhung = {{ from = "loft", hangers = 4 }}\n[stand.muffler]'
    plan = booth(("[stand.muffler]", second))
    (bearing,) = bearings(plan, hangs(plan, weights(plan)))
    (alone,) = bearings(booth(), hangs(booth(), weights(booth())))
    assert set(bearing.hung) == {"muffler", "fan"}
    assert bearing.sag > alone.sag
    assert bearing.used > alone.used


def test_live_load_lasts_less_and_counts_more() -> None:
    (alone,) = bearings(booth(), hangs(booth(), weights(booth())))
    plan = booth(('dead = "24 kg/m2"', 'dead = "24 kg/m2"\nlive = "50 kg/m2"'))
    (stored,) = bearings(plan, hangs(plan, weights(plan)))
    assert stored.used > 1.3 * alone.used


def test_drywall_screws_and_trusses_are_stops() -> None:
    loose = missed(assessed((HUNG, HUNG.replace("lag screw", "drywall screw"))), "hanging")
    assert len(loose) == 1
    assert "stop and ask" in loose[0]
    trussed = missed(assessed(("spacing = ", "truss = true\nspacing = ")), "hanging")
    assert any("trusses: stop and ask whoever designed them" in each for each in trussed)


def test_a_weak_screw_is_missed_and_a_strong_one_is_not() -> None:
    weak = HUNG.replace("lag screw", "wood screw").replace("6.35 mm", "4 mm").replace("50 mm", "8 mm")
    assert missed(assessed((HUNG, weak)), "hanging")
    assert not missed(assessed(), "hanging")


def test_isolators_are_held_against_the_fan() -> None:
    """10 mm rings at 5.0 Hz: a third of 20 Hz is 6.7, of 12 Hz 4."""
    for turns, stands in (("20 Hz", "met"), ("12 Hz", "missed")):
        found = assessed((HUNG, HUNG.replace(" }", f', turns = "{turns}" }}')))
        (isolated,) = asked(found, "hanging", "Hz")
        assert isolated.standing == stands
    assert "goes through" in isolated.sentence


def test_a_centre_outside_the_hangers_is_told() -> None:
    """Twelve hangers or four: the loads always sum to the weight, and the heavy end takes more."""
    heavy = ('shell = [{ board = "plywood"', 'faces = { left = [{ board = "steel sheet", thickness = "40 mm" }] }\n'
             'shell = [{ board = "plywood"')  # fmt: skip
    plan = booth(heavy)
    (hang,) = hangs(plan, weights(plan))
    assert sum(hang.loads) == pytest.approx(hang.mass * G)
    assert hang.loads[0] > 2.0 * hang.loads[-1]


def test_drywall_screws_are_refused_in_a_whole_sentence() -> None:
    found = assessed((HUNG, HUNG.replace("lag screw", "drywall screw")))
    (told,) = (each for each in asked(found, "hanging", "N"))
    assert told.standing == "stop"
    assert "with 50 mm of thread: drywall screws hold nothing up: stop and ask" in told.sentence
