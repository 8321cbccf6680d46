"""Boxes that sweat and boxes that do not, against a wall worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rooms import COOLER, FAN, room
from sordino.assess.assessment import Assessment, assess
from sordino.assess.damp import Damp
from sordino.assess.mould import Mould
from sordino.assess.profiles import profile
from sordino.assess.skins import box_sheets, skins
from sordino.assess.surroundings import around, outdoors
from sordino.physics.climate import moist
from sordino.physics.climate.surfaces import film, sky_drop
from sordino.plan.statement import Plan

BOX = """
[box.quiet]
family = "straight"
length = "0.8 m"
width = "0.25 m"
height = "0.25 m"
passes = 1
lining = "50 mm"
"""
BOXED = COOLER.replace(
    'to = "booth"\nin = "loft"\nsize = "160 mm"\nparts = [{ is = "metal duct", length = "2 m" }]',
    'to = "booth"\nin = "loft"\nsize = "160 mm"\nparts = [{ is = "lined box", box = "quiet" }]',
    1,
)


def boxed(more: str = "", lines: str = "") -> Plan:
    return room(BOXED, FAN, BOX + lines, more)


def worst(found: Assessment, subject: str, condition: str) -> Damp:
    return next(each for each in found.indoors.damp if (each.skin.subject, each.condition) == (subject, condition))


def mean(found: Assessment, subject: str) -> Mould:
    return next(each for each in found.indoors.mould if each.skin.subject == subject)


def test_air_off_in_winter_by_hand() -> None:
    """Room air of 23 °C in the box, the attic at -8 °C: Rsi 1/9.26.. lining 0.05/0.043, plywood 0.018/0.13, film."""
    found = assess(boxed())
    damp = worst(found, "quiet", "winter")
    assert damp.at == "between lining and plywood"
    assert damp.wet
    assert damp.airs.outside.temperature == pytest.approx(-8.0)
    inner = 1.0 / (8.29 if damp.skin.face != "corner" else 4.0) if damp.airs.mode == "off" else 1.0 / 15.0
    outer = {"up": 9.26, "side": 8.29, "down": 6.13, "corner": 4.0}[damp.skin.face]
    whole = inner + 0.05 / 0.043 + 0.018 / 0.13 + 1.0 / outer
    inside = damp.airs.inside.temperature
    hand = inside + (-8.0 - inside) * (inner + 0.05 / 0.043) / whole
    assert damp.temperature == pytest.approx(hand, abs=1e-6)
    assert damp.low < damp.temperature < damp.high
    assert next(each.standing for each in found.findings if each.question == "moisture") == "missed"


def test_insulation_outside_mends_it() -> None:
    """Twice the lining's resistance, with the retarder on the inside."""
    mended = assess(boxed(lines='wrap = { r = "2.4 m2K/W", jacket = "bare board", retarder = "inside" }\n'))
    damp = worst(mended, "quiet", "winter")
    assert not damp.wet
    assert mean(mended, "quiet").humidity < 0.8


def test_a_cold_bare_duct_is_wet_on_a_humid_night() -> None:
    found = assess(room(COOLER, FAN, people='people = [{ count = 1, activity = "drumming" }]\ngear = "300 W"'))
    damp = worst(found, "cool", "humid_night")
    assert damp.at == "on the outside of the steel sheet"
    assert damp.wet
    assert damp.dew == pytest.approx(moist.dew_point(around(found.plan, "loft", "humid_night").vapour), abs=0.1)
    assert any(each.subject == "cool" and each.question == "moisture" for each in found.findings)


def test_on_assumed_weather_it_is_only_a_note() -> None:
    found = assess(room(BOXED, FAN, BOX, weather=""))
    told = [each for each in found.findings if each.question in ("moisture", "mould")]
    assert told
    assert all(each.standing == "note" for each in told)
    assert "The weather is assumed" in told[0].sentence


def test_months_lie_between_the_days() -> None:
    plan = boxed()
    day, night, month = (outdoors(plan.site, name) for name in ("summer_day", "humid_night", "summer_month"))
    assert month.ratio == pytest.approx((day.ratio + night.ratio) / 2.0)
    assert outdoors(plan.site, "winter_month").temperature == pytest.approx(-5.0)


def test_stated_air_of_a_space_is_taken() -> None:
    dry = 'air = { winter = { temperature = "12 °C", humidity = "40 %" } }'
    plan = room(BOXED, FAN, BOX).model_copy()
    text = around(plan, "loft", "winter")
    assert text.temperature == pytest.approx(-8.0)
    from rooms import AROUND

    stated = AROUND.replace('is = "attic"', f'is = "attic"\n{dry}')
    from rooms import ROOM, WEATHER
    from small import written

    warm = written("\n".join([WEATHER, ROOM, stated, BOXED, FAN, BOX]))
    assert around(warm, "loft", "winter").temperature == pytest.approx(12.0)
    assert not worst(assess(warm), "quiet", "winter").wet


def test_faces_of_a_box_are_told_apart() -> None:
    faces = [each.face for each in skins(boxed()) if each.subject == "quiet"]
    assert sorted(faces) == ["corner", "down", "side", "up"]
    names = [each.name for each in box_sheets(boxed().box["quiet"], "floor")]
    assert names == ["lining", "plywood"]
    wrapped = boxed(lines='wrap = { r = "R-8", jacket = "bright foil", retarder = "outside" }\n').box["quiet"]
    assert [each.name for each in box_sheets(wrapped, "floor")] == ["lining", "plywood", "insulation", "jacket"]


def test_bright_foil_runs_colder_than_film() -> None:
    def coldest(jacket: str) -> float:
        wrap = f'wrap = {{ r = "R-4", jacket = "{jacket}", retarder = "outside" }}\n'
        found = assess(boxed(lines=wrap))
        return worst(found, "quiet", "humid_night").temperature

    assert coldest("bright foil") < coldest("plastic film") - 0.3


def test_a_clear_sky_cools_a_duct_outdoors() -> None:
    """The same bare duct outdoors and in a loft that is as warm: the one that sees the sky is colder."""
    inside = COOLER.replace('in = "loft"\nsize', 'in = "outside"\nsize')
    open_air = next(each for each in skins(room(inside, FAN)) if each.run == "cool")
    airs = worst(assess(room(inside, FAN)), "cool", "humid_night").airs
    assert airs.open_air
    under_sky = profile(open_air, "humid_night", airs).temperatures[-1]
    under_roof = profile(open_air, "humid_night", replace(airs, open_air=False)).temperatures[-1]
    drop = sky_drop("humid_night", "side", open_air.emissivity, film("still air", "horizontal", open_air.emissivity))
    assert drop == pytest.approx(open_air.emissivity * 5.1 * 0.5 * 8.0 / film("still air", "horizontal", 0.3))
    assert under_sky < under_roof


def test_a_leak_wets_what_is_dry_by_diffusion() -> None:
    """A wrapped cold box in a humid loft: dry while its jacket is whole."""
    wrap = 'wrap = { r = "R-8", jacket = "plastic film", retarder = "outside" }\n'
    found = assess(boxed(lines=wrap))
    damp = worst(found, "quiet", "humid_night")
    assert not damp.wet
    assert damp.leaks
