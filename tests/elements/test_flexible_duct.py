"""Flexible duct: what slack costs, what the blanket takes, what the thin wall lets out."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, refusal, rises_with_flow
from sordino.physics.air.properties import STANDARD


def test_slack_multiplies_the_friction() -> None:
    """6 in duct, 30 % slack: "a factor of nine" (Culp), 1 + 0.58 x 30 exp(-0.126 x 6) = 9.17 (Abushakra 2004; read)."""
    taut, slack = (made("flexible duct", size="6 in", length="2 m", pull=pull) for pull in ("0 %", "slack"))
    assert slack.pressure_loss(0.05, STANDARD) / taut.pressure_loss(0.05, STANDARD) == pytest.approx(9.17, abs=0.01)


def test_stretched_duct_is_rough_duct() -> None:
    """0.9 mm roughness, 50 L/s in 150 mm and 100 L/s in 200 mm: 1.120 and 0.966 Pa/m by Colebrook (derived)."""
    for flow, bore, per_metre in ((0.050, 150, 1.120), (0.100, 200, 0.966)):
        duct = made("flexible duct", size=f"{bore} mm", length="4 m", pull="0 %")
        assert duct.pressure_loss(flow, STANDARD) == pytest.approx(4.0 * per_metre, rel=0.002)


def test_words_for_the_pull() -> None:
    """tight, ordinary and slack stand for 4, 10 and 30 % (Weaver & Culp, second-hand)."""
    words = {word: made("flexible duct", length="1 m", pull=word).pressure_loss(0.04, STANDARD) for word in WORDS}
    shares = [made("flexible duct", length="1 m", pull=p).pressure_loss(0.04, STANDARD) for p in WORDS.values()]
    assert list(words.values()) == shares
    assert shares == sorted(shares)


WORDS = {"tight": "4 %", "ordinary": "10 %", "slack": "30 %"}


def test_attenuation_is_the_tables() -> None:
    """ASHRAE flexible duct table, 150 mm, 3.7 m, 63 Hz to 4 kHz (memory); 8 kHz holds, and the note says so."""
    duct = made("flexible duct", size="150 mm", length="3.7 m")
    loss = duct.attenuation(STANDARD)
    np.testing.assert_allclose(loss[1:8], [8, 12, 17, 33, 38, 40, 26], atol=0.01)
    assert np.isnan(loss[0])
    assert loss[8] == loss[7]
    assert "8 kHz is not in the handbook table" in duct.notes()[0]


def test_a_heavier_wall_keeps_more_in() -> None:
    """Mass law: twice the mass, 6 dB, where the wall isolates at all."""
    light, heavy = (made("flexible duct", length="2 m", wall_mass=f"{m} kg/m2").wall() for m in (3, 6))
    assert light is not None
    assert heavy is not None
    np.testing.assert_allclose(heavy.breakout[4:] - light.breakout[4:], 6.0, atol=0.1)
    assert light.outer_area == pytest.approx(np.pi * 0.16 * 2.0)


def test_own_noise_rises_with_flow() -> None:
    """As in any duct."""
    assert rises_with_flow(made("flexible duct", length="2 m"))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"size": "200 x 100 mm"}, "flexible duct is round"),
        ({"pull": "46 %"}, "more slack than was ever measured"),
        ({"pull": "saggy"}, "does not say how tight"),
        ({"length": "-2 m"}, "length"),
    ],
)
def test_what_no_flexible_duct_is(fields: dict[str, str], words: str) -> None:
    """Rectangular, slacker than measured, pulled in words unknown, of negative length."""
    assert words in refusal("flexible duct", **({"length": "1 m"} | fields))


def test_a_size_beyond_the_table_is_told() -> None:
    """Shorter than 0.9 m and narrower than 100 mm; a usual one says no more than that 8 kHz is held."""
    assert len(made("flexible duct", "160 mm", length="2 m").notes()) == 1
    told = " ".join(made("flexible duct", "80 mm", length="0.5 m").notes())
    assert "its diameter is less than the handbook has data for (flexible duct)" in told
    assert "its length is less" in told
