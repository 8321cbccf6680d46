"""Help at places to stop and ask: after each change that is told the plan is assessed anew and must not stop there."""

from __future__ import annotations

import pytest

from assess.test_safety import filled
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.report.gains import gain_advice
from sordino.search import stops
from sordino.search.gains import Gains, gains
from sordino.search.help import helping
from structures import asked, assessed

GARAGE = ("[space.outside]", '[space.garage]\nis = "room"\nuse = "garage"\n[space.outside]')
FROM_IT = ('[run.fresh]\nfrom = "outside"', '[run.fresh]\nfrom = "garage"')
BARE = ('{ is = "open end", at = ["4 m", "0 m", "3 m"] }, ', "")
CASES = {
    "too much refrigerant": (filled('refrigerant = "R-32"\ncharge = "3 kg"'),),
    "an intake beside an exhaust": (('["4 m", "0 m", "3 m"]', '["2 m", "0 m", "3 m"]'),),
    "a lining that burns": (('burning = "rated"', 'burning = "burns"'),),
    "air from a garage": (GARAGE, FROM_IT, BARE),
    "a damper in the grille": (('parts = [{ is = "grille" }', 'parts = [{ is = "grille", damper = true }'),),
    "soft duct in a rated wall": (
        ('area = "2.8 m2"', 'area = "2.8 m2"\nfire_rated = true'),
        ('{ is = "grille" }, { is = "metal duct"', '{ is = "grille" }, { is = "flexible duct"'),
    ),
    "a flame in the room": (("[opening.hatch]", '[appliance.stove]\nis = "flueless"\nin = "booth"\n[opening.hatch]'),),
}


def stopped(found: Assessment) -> Finding:
    (finding,) = (each for each in asked(found, "safety") if each.standing == "stop")
    return finding


def helped(found: Assessment) -> Gains:
    mine = gains(found, stopped(found))
    assert mine is not None
    return mine


@pytest.mark.parametrize("case", CASES)
def test_every_change_told_takes_the_stop_away(case: str) -> None:
    found = assessed(*CASES[case])
    finding = stopped(found)
    changes = dict(stops.cures(found, finding))
    mine = helped(found)
    assert mine.best
    for gain in mine.best:
        assert gain.meets
        again = assess(changes[gain.words](found.plan), fields=False)
        same = [each for each in asked(again, "safety") if each.method == finding.method]
        assert not any(each.standing == "stop" for each in same)
    words = gain_advice(found, finding, helping(found, ("normal",))).sentence
    assert words.startswith(f" What helps most: {mine.best[0].words}")
    assert "None of these" not in words


def test_metal_duct_in_a_rated_wall_tells_what_it_does_to_the_noise() -> None:
    (gain,) = helped(assessed(*CASES["soft duct in a rated wall"])).best
    assert gain.words == "metal duct instead of flexible duct"
    assert gain.cost.startswith(("Booth then has", "but then Booth has"))


def test_one_limit_of_refrigerant_whatever_is_in_the_unit_now() -> None:
    """5.88 m3 of R-32: 0.077 kg/m3; the rule for floors begins at 6 x 0.307 = 1.84 kg and never asks for less."""
    limits = []
    for charge in ("1.1 kg", "3 kg"):
        found = assessed(filled(f'refrigerant = "R-32"\ncharge = "{charge}"'))
        limits.append(stopped(found).limit)
    assert limits == pytest.approx([0.077 * 5.88] * 2)
    high = assessed(filled('refrigerant = "R-32"\ncharge = "3 kg"'))
    floor = (3.0 / (2.5 * 0.307**1.25 * 0.6)) ** 2
    assert f"with a floor of {floor:.1f}" in stopped(high).sentence
