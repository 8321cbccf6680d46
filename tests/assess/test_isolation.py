"""What ducts do to a shell."""

from __future__ import annotations

import numpy as np

from small import FAN, ROOMS, written
from sordino.assess.assessment import assess
from sordino.assess.finding import Finding
from sordino.assess.isolation import Isolation
from sordino.bands import energy_sum

SHELL = """
[shell.wall]
between = ["here", "there"]
area = "9 m2"
loss = [35, 42, 48, 55, 60, 63, 63, 63]
"""
TRANSFER = """
[run.back]
from = "there"
to = "here"
size = "160 mm"
parts = [{}]

[run.way]
from = "fan.outlet"
to = "there"
size = "160 mm"
parts = [{}]
"""
SILENCER = (
    '{ is = "silencer", length = "1.5 m", loss = [45, 50, 60, 70, 75, 75, 75, 75], drop = "9 Pa", at = "60 L/s" }'
)


def answer(back: str = "", way: str = "") -> tuple[Isolation, Finding]:
    """The pair `here` to `there` and the finding on it."""
    assessed = assess(written(ROOMS + FAN + SHELL + TRANSFER.format(back, way)))
    pair = next(each for each in assessed.isolations if (each.source, each.receiver) == ("here", "there"))
    return pair, next(each for each in assessed.findings if each.question == "isolation")


def test_a_bare_duct_rules_the_wall() -> None:
    """An open transfer duct loses tens of decibels less than the wall, and the finding names it."""
    pair, finding = answer()
    assert pair.lead is not None
    assert np.nanmin(pair.lead) < -15.0
    assert finding.standing == "likely missed"
    assert "weaker than" in finding.sentence


def test_enough_loss_in_every_duct_restores_it() -> None:
    """With silencers in the transfer duct and in the fan's way the ducts cost the wall nothing."""
    pair, finding = answer(f"{SILENCER}, {SILENCER}", f"{SILENCER}, {SILENCER}")
    assert pair.lead is not None
    assert np.nanmin(pair.lead[1:]) >= 10.0
    assert finding.standing == "note"
    assert "cost it nothing" in finding.sentence


def test_one_open_way_spoils_the_other() -> None:
    """A treated transfer duct leaves the way through the fan, which is then named."""
    _, finding = answer(f"{SILENCER}, {SILENCER}")
    assert finding.standing == "likely missed"
    assert "draw + fan + way" in finding.sentence


def test_both_together_are_the_sum_of_what_passes() -> None:
    """Energy sum, never better than the weaker, at most 3 dB worse."""
    pair, _ = answer()
    assert pair.shell is not None
    assert pair.ducts is not None
    assert pair.together is not None
    np.testing.assert_allclose(pair.together, -energy_sum([-pair.shell, -pair.ducts]))
    least = np.fmin(pair.shell, pair.ducts)[1:]
    assert np.all(pair.together[1:] <= least)
    assert np.all(pair.together[1:] >= least - 3.02)


def test_ten_decibels_more_cost_less_than_half_a_decibel() -> None:
    """The margin by arithmetic: 10 lg(1 + 10^-1) = 0.41 dB."""
    assert 10 * np.log10(1 + 0.1) < 0.5


def test_the_ways_add_up_to_the_ducts() -> None:
    """Each way's level difference is listed."""
    pair, _ = answer()
    assert pair.ducts is not None
    np.testing.assert_allclose(pair.ducts, -energy_sum([-loss for _, loss in pair.ways]))
    assert {via for via, _ in pair.ways} == {"back", "draw + fan + way"}


def test_rooms_that_nothing_joins_are_no_pair() -> None:
    """Neither shell nor duct: no answer."""
    text = (
        ROOMS
        + FAN.replace('from = "here"', 'from = "loft"')
        + '[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n'
    )
    assert assess(written(text)).isolations == ()


def test_the_lead_has_a_range_and_a_cause() -> None:
    """What moves the ducts and the shell alike, as the room that hears both, is not in it."""
    pair, finding = answer()
    assert finding.value is not None
    assert finding.low is not None
    assert finding.high is not None
    assert finding.low < finding.value < finding.high
    assert finding.value - finding.low < 15.0
    assert finding.widest
    assert len(pair.widest) == 9
