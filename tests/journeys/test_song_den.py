"""The den that nothing airs, and the same mended: every mistake is found where it is made, and not where it is not."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import pytest

from sordino.assess.assessment import Assessment, assess
from sordino.plan.project import read
from sordino.search.help import helping

FILE = str(files("sordino").joinpath("examples", "song-den.toml"))


@cache
def den(variant: str | None = None) -> Assessment:
    return assess(read(FILE, variant))


def missed(variant: str | None = None) -> dict[str, str]:
    return {each.question: each.standing for each in den(variant).findings if each.missed}


def test_shut_in_with_a_unit_that_recirculates() -> None:
    assert missed()["fresh air"] == "stop"
    assert missed()["moisture"] == "missed"


def test_aired_and_wrapped_nothing_of_it_is_missed() -> None:
    assert not {"fresh air", "moisture", "mould", "cooling"} & missed("aired").keys()
    assert "schedule" in den("aired").indoors.sessions


def test_a_fan_alone_does_not_cool() -> None:
    assert missed("fan-alone")["cooling"] == "missed"
    assert "fresh air" not in missed("fan-alone")


@pytest.mark.parametrize("variant", ["drummer", "cupboard"])
def test_less_air_for_each_person_is_spent_sooner(variant: str) -> None:
    base, other = (den(name).indoors.fresh[0].reached for name in (None, variant))
    assert base is not None
    assert other is not None
    assert other < base


def test_every_missed_finding_is_told_what_helps() -> None:
    found = den()
    helps = helping(found, ("normal",))
    asked = {each.finding.question for each in helps.indoors}
    assert {"fresh air", "moisture"} <= asked
    assert all(each.tried for each in helps.indoors)
    fresh = next(each for each in helps.indoors if each.finding.question == "fresh air")
    assert fresh.best[0].meets
