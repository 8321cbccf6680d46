"""Flames, fumes and garages beside ducts that draw: what must stop a builder, and what need not."""

from __future__ import annotations

import pytest

from sordino.errors import PlanError
from structures import assessed, booth, missed

HATCH = "[opening.hatch]"


def appliance(kind: str, place: str) -> tuple[str, str]:
    """The booth with something that burns."""
    return HATCH, f'[appliance.heater]\nis = "{kind}"\nin = "{place}"\n{HATCH}'


def test_nothing_burns_the_air_of_an_airtight_room() -> None:
    """The booth's ducts take no more out than they bring in, and still the flame has no air of its own."""
    for kind in ("flueless", "open-flued"):
        (told,) = missed(assessed(appliance(kind, "booth")), "safety")
        assert f"heater ({kind}) in Booth: stop and ask. An airtight room has no air for a flame" in told
    assert not missed(assessed(appliance("room-sealed", "booth")), "safety")


def test_fumes_of_a_flueless_heater_stay_where_it_stands() -> None:
    beside = appliance("flueless", "loft")
    assert not missed(assessed(beside), "safety")
    drawn = assessed(beside, ('[run.fresh]\nfrom = "outside"', '[run.fresh]\nfrom = "loft"'),
                     ('{ is = "open end", at = ["4 m", "0 m", "3 m"] }, ', ""))  # fmt: skip
    (told,) = missed(drawn, "safety")
    assert "Its fumes stay in Loft, and fresh takes air from there" in told


def test_outdoors_nothing_can_take_the_projects_air() -> None:
    with pytest.raises(PlanError, match="out there it takes no air from the project"):
        booth(appliance("open-flued", "outside"))


COOLER = """
[mover.cooler]
is = "ducted unit"
in = "loft"
curve = [["0 L/s", "50 Pa"], ["60 L/s", "40 Pa"], ["120 L/s", "0 Pa"]]
sound = { rated = "32 dBA" }
charge = "0 kg"
[run.cold]
from = "cooler.supply"
to = "booth"
size = "160 mm"
in = "loft"
[run.back]
from = "booth"
to = "cooler.return"
size = "160 mm"
in = "loft"
parts = [{ is = "grille" }, { is = "metal duct", length = "1 m" }]
[opening.hatch]"""


def test_a_cooler_and_its_return_that_lie_in_a_garage() -> None:
    """What only blows out of the booth harms nobody there; what sucks and blows into it does."""
    garage = ('[space.loft]\nis = "attic"', '[space.loft]\nis = "attic"\nuse = "garage"')
    assert not missed(assessed(garage), "safety"), "the fan blows outdoors"
    (told,) = missed(assessed(garage, (HATCH, COOLER)), "safety")
    assert told.startswith("Cooler, back lie in Loft, a garage, under suction: stop and ask")
    plant = assessed((garage[0], garage[1].replace('"garage"', '"plant room"')), (HATCH, COOLER))
    assert not missed(plant, "safety"), "a machine in a plant room is told of, not stopped"
    assert any("under suction" in each.sentence for each in plant.findings)
