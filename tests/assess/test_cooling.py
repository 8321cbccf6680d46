"""Heat and humidity of one booth, by hand: what a fan can't, what a unit can, what a coil dries."""

from __future__ import annotations

import pytest

from rooms import COOLER, FAN, RECOVERY, room
from sordino.assess.assessment import Assessment, assess
from sordino.physics.climate import moist

WARM = 'people = [{ count = 1, activity = "singing" }]\ngear = "65 W"\ncomfort = { warmest = "27 °C" }'
INSIDE = FAN.replace('from = "outside"', 'from = "office"').replace('to = "outside"', 'to = "office"')


def told(found: Assessment, question: str) -> str:
    return next(each.sentence for each in found.findings if each.question == question)


def test_a_booth_fan_asked_to_cool_is_told_no_with_the_watts() -> None:
    """75 W and 65 W at 23 °C held, outdoor air at 35 °C: Q = 140 W + rho cp q 12 K."""
    found = assess(room(FAN, people=WARM))
    heat = found.indoors.heat[0]
    per_flow = moist.heat_per_flow(23.0, 0.0093, 101_325.0)
    assert heat.load == pytest.approx(140.0 + per_flow * found.indoors.fresh[0].flow * 12.0, rel=0.01)
    assert "does moving air alone keep it cool? No:" in told(found, "cooling")
    assert f"{heat.load:.0f} W must be taken away" in told(found, "cooling")
    judged = next(each for each in found.findings if each.question == "cooling")
    assert judged.standing == "missed"
    assert judged.limit == 27.0


def test_in_the_long_run_the_heat_balances() -> None:
    """Air of 24 °C through a booth of 140 W settles 140 W over rho cp q above it; surfaces lag by hours."""
    head = '[session]\nlength = "12 h"\n'
    found = assess(room(INSIDE, people=WARM, head=head))
    heat, flow = found.indoors.heat[0], found.states["normal", "clean"].flows["blow"]
    per_flow = moist.heat_per_flow(23.0, 0.0093, 101_325.0)
    assert heat.end == pytest.approx(24.0 + 140.0 / (per_flow * flow), abs=1.0)
    assert heat.early < heat.late < heat.end


def test_a_unit_holds_what_it_can() -> None:
    found = assess(room(COOLER, FAN, people=WARM))
    heat, unit = found.indoors.heat[0], found.indoors.climates["normal", "summer_day"].units[0]
    assert heat.unit == "unit"
    assert unit.returns == pytest.approx(23.0, abs=0.1)
    assert heat.carries == pytest.approx(1.19e3 * heat.unit_flow * 10.0, rel=0.03)
    assert heat.load < heat.carries
    assert heat.end < 25.0
    assert heat.supply_needed == pytest.approx(heat.load / heat.carries * heat.unit_flow, rel=1e-6)


def test_a_small_unit_falls_short() -> None:
    weak = COOLER.replace('in = "loft"\ncurve', 'in = "loft"\ncooling = "100 W"\ncurve', 1)
    found = assess(room(weak, FAN, people=WARM))
    heat, unit = found.indoors.heat[0], found.indoors.climates["normal", "summer_day"].units[0]
    assert unit.limited
    assert heat.carries == pytest.approx(75.0, rel=0.01)
    assert "can carry only 75 W" in told(found, "cooling")


def test_thin_air_carries_less() -> None:
    high = room(COOLER, people=WARM, weather='[site]\naltitude = "2500 m"\n')
    low = room(COOLER, people=WARM, weather='[site]\naltitude = "0 m"\n')
    carried = [each.indoors.heat[0] for each in map(assess, (high, low))]
    ratio = carried[0].carries / carried[0].unit_flow / (carried[1].carries / carried[1].unit_flow)
    assert ratio == pytest.approx(0.737, rel=0.01)


def test_recovery_hands_heat_on() -> None:
    """Three quarters of the difference between outdoors and the room are kept."""
    bare, kept = assess(room(FAN)), assess(room(RECOVERY))
    loads = [each.indoors.heat[0].air / each.indoors.fresh[0].flow for each in (bare, kept)]
    assert loads[1] == pytest.approx(0.25 * loads[0], rel=0.05)


def test_a_warm_coil_does_not_dry() -> None:
    """Little heat and much air: the coil stays over the dew point, and the finding says so."""
    loose = COOLER.replace('coldest = "13 °C"', "")
    found = assess(room(loose, FAN, people='people = [{ count = 1, activity = "seated" }]'))
    units = [found.indoors.climates["normal", "humid_night"].units[0]]
    dry = [each for each in found.findings if each.question == "drying"]
    assert bool(dry) == (not units[0].dries)
    idle = room(COOLER, people='people = []\ngear = "10 W"\ncomfort = { temperature = "27 °C" }')
    still = assess(idle)
    assert not still.indoors.climates["normal", "humid_night"].units[0].dries
    assert "takes no water out" in told(still, "drying")


def test_humidity_follows_the_water_balance() -> None:
    """Outdoor air of the humid night, cooled to the room with 45 W of latent heat in it."""
    head = '[session]\nlength = "12 h"\n'
    found = assess(room(FAN, head=head))
    at_night = found.indoors.rooms["normal", "humid_night"].session
    fresh = found.indoors.fresh[0].flow
    outdoors = moist.humidity_ratio(29.0, 0.85, 101_325.0)
    dry = moist.dry_mass_per_volume(23.0, 0.0102, 101_325.0)
    want = outdoors + 45.0 / moist.EVAPORATION / (dry * fresh)
    assert at_night.ratio[-1, 0] == pytest.approx(want, rel=0.02)


def test_choices_by_hand() -> None:
    """What a dehumidifier takes out: outdoor air of the humid night down to 60 % at 23 °C, and 45 W of people."""
    found = assess(room(FAN))
    told = {each.name: each for each in found.indoors.choices}
    assert list(told) == ["fan alone", "heat recovery", "heat and moisture recovery"]
    outdoors, held = (moist.humidity_ratio(*state, 101_325.0) for state in ((29.0, 0.85), (23.0, 0.6)))
    dry = moist.dry_mass_per_volume(23.0, 0.0102, 101_325.0)
    flow = found.indoors.fresh[0].flow
    people = 45.0 / moist.EVAPORATION
    assert told["fan alone"].water == pytest.approx(people + dry * flow * (outdoors - held), rel=0.02)
    assert told["heat and moisture recovery"].water == pytest.approx(
        people + 0.5 * dry * flow * (outdoors - held), rel=0.02
    )
    assert told["heat and moisture recovery"].by_hour["winter"] > told["fan alone"].by_hour["winter"]
