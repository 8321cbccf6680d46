"""Every stop: the mistake triggers it, the mended plan does not."""

from __future__ import annotations

import pytest

from sordino.assess.safety import reached_rooms
from structures import asked, assessed, booth, missed

COOLER = """
[mover.cooler]
is = "ducted unit"
in = "loft"
curve = [["0 L/s", "50 Pa"], ["60 L/s", "40 Pa"], ["120 L/s", "0 Pa"]]
sound = { rated = "32 dBA" }
[run.cold]
from = "cooler.supply"
to = "booth"
size = "160 mm"
[run.back]
from = "booth"
to = "cooler.return"
size = "160 mm"
[opening.hatch]"""
HEATER = '[appliance.heater]\nis = "open-flued"\nin = "loft"\n[opening.hatch]'
FRESH = """[run.fresh]
from = "outside"
to = "booth"
size = "160 mm"
in = "loft"
parts = [{ is = "open end", at = ["4 m", "0 m", "3 m"] }, { is = "metal duct", length = "1 m" }, { is = "open end" }]
"""


def filled(said: str) -> tuple[str, str]:
    """The booth's second machine, a cooler filled with that."""
    return "[opening.hatch]", COOLER.replace("[run.cold]", f"{said}\n[run.cold]")


def test_a_refrigerant_that_fills_the_booth() -> None:
    """5.88 m3: R-410A may be 0.42 x 5.88 = 2.47 kg, R-32 0.077 x 5.88 = 0.45 kg."""
    for said, over in (("R-410A", False), ("R-32", True)):
        found = assessed(filled(f'refrigerant = "{said}"\ncharge = "0.9 kg"'))
        (told,) = (each for each in asked(found, "safety", "kg"))
        assert told.missed is over
        assert told.limit == pytest.approx({"R-410A": 0.42, "R-32": 0.077}[said] * 2.0 * 1.4 * 2.1)
        assert ("stop and ask" in told.sentence) is over


def test_more_of_what_burns_is_also_held_against_the_floor() -> None:
    """Over 1.84 kg of R-32 the floor may take 2.5 x 0.307^1.25 x 0.6 x sqrt(2.8) = 0.57 kg; the room still less."""
    found = assessed(filled('refrigerant = "r32"\ncharge = "2.5 kg"'))
    (told,) = (each for each in asked(found, "safety", "kg"))
    assert told.limit == pytest.approx(0.077 * 5.88)


def test_a_charge_nobody_knows_is_a_stop_and_water_is_none() -> None:
    unknown = missed(assessed(filled("")), "safety")
    assert any("stop and ask for the charge" in each for each in unknown)
    assert not missed(assessed(filled('charge = "0 kg"')), "safety")


def test_rooms_are_reached_through_junctions_and_not_through_other_machines() -> None:
    assert reached_rooms(booth(filled("")), "cooler") == ("booth",)
    assert reached_rooms(booth(), "fan") == ("booth",)


def test_a_stopped_fan_with_a_singer_inside() -> None:
    """5.88 m3 and at most 8.3 mL/s: 4580 ppm take 4580e-6 x 5.88 / 8.3e-6 s = 54 min or somewhat more."""
    (told,) = asked(assessed(), "safety", "s")
    assert told.value == pytest.approx(4580e-6 * 5.88 / told_rate(), rel=1e-6)
    assert 45.0 * 60.0 < (told.value or 0.0) < 65.0 * 60.0
    assert "stop and ask for an alarm" in told.sentence
    empty = assessed(('people = [{ count = 1, activity = "singing" }]\n', ""))
    assert not list(asked(empty, "safety", "s"))


def told_rate() -> float:
    """Carbon dioxide of one singer by the table, m3/s: between 1.6 and 2 met at 25 C."""
    from sordino.physics.climate.people import co2_rate, person

    rate = co2_rate(person("singing").met)
    assert 0.0061e-3 * 298.15 / 273.15 <= rate <= 0.0076e-3 * 298.15 / 273.15
    return rate


def test_an_open_flue_and_an_exhaust_without_supply() -> None:
    drawn = missed(assessed(("[opening.hatch]", HEATER), (FRESH, "")), "safety")
    assert len(drawn) == 1
    assert "stop and ask" in drawn[0]
    assert "come back down the flue" in drawn[0]
    sealed = HEATER.replace("open-flued", "room-sealed")
    assert not missed(assessed(("[opening.hatch]", sealed), (FRESH, "")), "safety")


def test_air_from_a_garage() -> None:
    garage = ("[space.outside]", '[space.garage]\nis = "room"\nuse = "garage"\n[space.outside]')
    taken = assessed(garage, ('[run.fresh]\nfrom = "outside"', '[run.fresh]\nfrom = "garage"'),
                     ('{ is = "open end", at = ["4 m", "0 m", "3 m"] }, ', ""))  # fmt: skip
    assert "from Garage, a garage: stop and ask" in missed(taken, "safety")[0]
    assert not missed(assessed(garage), "safety")


def test_a_damper_at_the_grille() -> None:
    for part in ('{ is = "grille", damper = true }', '{ is = "grille" }, { is = "damper" }'):
        found = missed(assessed(('parts = [{ is = "grille" }', f"parts = [{part}")), "safety")
        assert "a damper at the grille in Booth: stop and ask" in found[0]
    away = ('{ is = "lined box", box = "muffler" }', '{ is = "lined box", box = "muffler" }, { is = "damper" }')
    assert not missed(assessed(away), "safety")


def test_soft_duct_through_a_rated_wall() -> None:
    rated = ('area = "2.8 m2"', 'area = "2.8 m2"\nfire_rated = true')
    soft = ('{ is = "grille" }, { is = "metal duct"', '{ is = "grille" }, { is = "flexible duct"')
    assert not missed(assessed(rated), "safety")
    assert not missed(assessed(soft), "safety")
    assert "passes the fire-rated shell ceiling: stop and ask" in missed(assessed(rated, soft), "safety")[0]


def test_an_intake_beside_an_exhaust() -> None:
    """4 m apart is enough, 2 m is not, 2 m apart and a metre below is."""
    for at, stands in (
        ('["4 m", "0 m", "3 m"]', "met"),
        ('["2 m", "0 m", "3 m"]', "stop"),
        ('["2 m", "0 m", "2 m"]', "met"),
    ):
        found = assessed(('["4 m", "0 m", "3 m"]', at))
        (told,) = asked(found, "safety", "m")
        assert told.standing == stands
        assert ("1.048 m more are wanted" in told.sentence or "1.05 m more" in told.sentence) is (stands == "stop")
    unsaid = assessed((', at = ["0 m", "0 m", "3 m"]', ""))
    assert any("where they open outdoors is not said" in each.sentence for each in asked(unsaid, "safety"))


def test_a_lining_that_burns() -> None:
    for burning, stop in (("burns", True), ("unknown", False), ("does not burn", False)):
        found = assessed(('burning = "rated"', f'burning = "{burning}"'))
        assert bool(missed(found, "safety")) is stop
    bare = assessed(('facing = "tissue"', 'facing = "none"'))
    assert any("Nobody says that the fibre of muffler is faced" in each.sentence for each in asked(bare, "safety"))
    assert not any("Nobody says" in each.sentence for each in asked(assessed(), "safety"))


def test_no_answer_says_that_anything_is_allowed() -> None:
    for each in assessed().findings:
        assert "complian" not in each.sentence
