"""What sweats and what grows mould: every interface of every face of boxes and ducts, by condition, air on and off.

Wet: colder than the dew point there plus 1 K. Mould: above 80 % on the mean of thirty days, between 5 and 40 degrees C
(ASHRAE 160-2009); an hour above is only a note. A surface that is warmer than the air whose moisture it meets is left
out: it is drier than that air.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sordino.assess.airflow import AirState
from sordino.assess.climate import Climate
from sordino.assess.finding import Finding, Standing, standing
from sordino.assess.freshair import scatter
from sordino.assess.session import Session
from sordino.assess.skins import Skin, skins
from sordino.assess.surroundings import Ambient, around, start, weather_known
from sordino.assess.wording import VERDICT, degrees
from sordino.physics.climate import moist
from sordino.physics.climate.layers import Interfaces, Sheet, condensing, interfaces
from sordino.physics.climate.surfaces import film, sky_drop
from sordino.plan.climate import CONDITIONS, MONTHS
from sordino.plan.statement import Plan

MARGIN, MOULD = 1.0, 0.8
"""K above the dew point that count as wet; mean humidity at a surface above which mould grows."""
COLDEST_MOULD, WARMEST_MOULD = 5.0, 40.0
OFF, ON = "off", "on"
SAME = 0.25
"""Difference of temperature that is none, K."""
SHUT = 10.0
"""Vapour resistance on both sides behind which nothing grows, m of still air (judgement)."""
TRICKLE = 5e-3 / 86_400.0
"""Water gathering between layers that is let pass, kg/m2s: 5 g/m2 a day, 500 g/m2 in a season (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Airs:
    """Air on both sides of a face in one state of the machines."""

    mode: str
    inside: Ambient
    outside: Ambient
    moving: bool
    open_air: bool
    """Whether the face sees the sky and the wind."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Damp:
    """The dampest interface of one face in one condition; temperatures C."""

    skin: Skin
    condition: str
    airs: Airs
    index: int
    """Of the interface, counted from inside."""
    temperature: float
    low: float
    high: float
    dew: float
    humidity: float

    @property
    def at(self) -> str:
        """Which interface, as `between lining and plywood`."""
        return place_words(self.skin.sheets, self.index)

    @property
    def limit(self) -> float:
        """Temperature that it must not fall below."""
        return self.dew + MARGIN

    @property
    def wet(self) -> bool:
        """Whether it is."""
        return self.temperature < self.limit


@dataclass(frozen=True, kw_only=True, slots=True)
class Mould:
    """The mean humidity of thirty days at the dampest interface of a box or of a run's ducts."""

    skin: Skin
    condition: str
    states: tuple[Airs, Airs]
    """Off and on."""
    index: int
    humidity: float
    low: float
    high: float
    temperature: float

    @property
    def at(self) -> str:
        """Which interface."""
        return place_words(self.skin.sheets, self.index)


@dataclass(frozen=True, kw_only=True, slots=True)
class Rooms:
    """Rooms of a mode in a condition: the network, and how a session in it goes."""

    climate: Climate
    session: Session
    state: AirState


Found = dict[tuple[str, str], Rooms]


def damps(plan: Plan, found: Found, subject: str = "") -> tuple[Damp, ...]:
    """The dampest interface of every box and every run's ducts in every condition, or of one subject only."""
    worst: dict[tuple[str, str], Damp] = {}
    for skin, condition, states in _cases(plan, found, CONDITIONS, subject):
        for airs in states:
            one = _dampest(skin, condition, airs, plan.session.hours)
            key = (skin.subject, condition)
            if one is not None and (key not in worst or _nearness(one) > _nearness(worst[key])):
                worst[key] = one
    return tuple(_with_range(each) for each in worst.values())


def _nearness(each: Damp) -> float:
    return each.limit - each.temperature


def _cases(
    plan: Plan, found: Found, conditions: tuple[str, ...], subject: str
) -> Iterator[tuple[Skin, str, tuple[Airs, ...]]]:
    """Every face in every condition, with its states: air off, then each mode in which air moves through its run."""
    known: dict[tuple[str, str, str], tuple[Airs, ...]] = {}
    for skin in (each for each in skins(plan) if subject in ("", each.subject)):
        for condition in conditions:
            key = (skin.run, skin.within, condition)
            if key not in known:
                known[key] = tuple(_states(plan, skin, condition, found))
            yield skin, condition, known[key]


def _states(plan: Plan, skin: Skin, condition: str, found: Found) -> Iterator[Airs]:
    yield _off(plan, skin, condition)
    for mode in plan.mode:
        rooms = found[mode, condition]
        if abs(rooms.state.flows[skin.run]) > 1e-4:
            yield _on(plan, skin, rooms)


def _off(plan: Plan, skin: Skin, condition: str) -> Airs:
    """With the air off a duct fills with the air of the room, else of the place, at its end."""
    run = plan.run[skin.run]
    ends = [end for end in (run.end, run.start) if end in plan.room or end in plan.space]
    room = next((end for end in ends if end in plan.room), None)
    place = next((end for end in ends if end in plan.space), None)
    if room is None and place is not None:
        inside = around(plan, place, condition)
    else:
        inside = start(plan, room or next(iter(plan.room)), condition)
    return _airs(plan, skin, OFF, inside, _room_at_rest(plan, skin.within, condition))


def _room_at_rest(plan: Plan, place: str, condition: str) -> Ambient:
    return start(plan, place, condition) if place in plan.room else around(plan, place, condition)


def _on(plan: Plan, skin: Skin, rooms: Rooms) -> Airs:
    run, flow = plan.run[skin.run], rooms.state.flows[skin.run]
    inside = _air_at(plan, rooms, run.start if flow >= 0.0 else run.end)
    return _airs(plan, skin, rooms.climate.mode, inside, _air_at(plan, rooms, skin.within))


def _air_at(plan: Plan, rooms: Rooms, node: str) -> Ambient:
    """Air of a node at the end of a session."""
    network, told = rooms.climate, rooms.session
    if node in plan.space:
        return around(plan, node, network.condition)
    if node in plan.room:
        place = told.rooms.index(node)
        warm, ratio = float(told.temperature[-1, place]), float(told.ratio[-1, place])
    else:
        warm = network.heat.at(node, told.temperature[-1])
        ratio = network.water.at(node, told.ratio[-1])
    pressure = network.outside.pressure
    dry = min(ratio, moist.saturation_ratio(warm, pressure))
    return Ambient(temperature=warm, ratio=dry, co2=0.0, pressure=pressure)


def _airs(plan: Plan, skin: Skin, mode: str, inside: Ambient, outside: Ambient) -> Airs:
    space = plan.space.get(skin.within)
    open_air = space is not None and space.kind == "outside"
    return Airs(mode=mode, inside=inside, outside=outside, moving=mode != OFF, open_air=open_air)


def profile(skin: Skin, condition: str, airs: Airs, slower: float = 1.0, thinner: float = 1.0) -> Interfaces:
    """Temperature and vapour through one face; `slower` multiplies the outer film, `thinner` all insulation."""
    outer = _outer_film(skin, condition, airs) * slower
    outside = airs.outside.temperature
    if airs.open_air and skin.face in ("up", "side", "corner"):
        outside -= sky_drop(condition, "up" if skin.face == "up" else "side", skin.emissivity, outer)
    inner = film("moving duct" if airs.moving else "corner" if skin.face == "corner" else "still air", "horizontal")
    return interfaces(
        skin.sheets
        if thinner == 1.0
        else [replace(each, resistance=each.resistance * thinner) for each in skin.sheets],
        (airs.inside.temperature, airs.inside.vapour),
        (outside, airs.outside.vapour),
        1.0 / inner,
        1.0 / outer,
    )


def _outer_film(skin: Skin, condition: str, airs: Airs) -> float:
    """Heat transfer outside, by where heat flows and by the jacket."""
    if airs.open_air and condition.startswith("winter"):
        return film("wind", "horizontal", skin.emissivity)
    inward = airs.outside.temperature > airs.inside.temperature
    way = {"up": "down" if inward else "up", "down": "up" if inward else "down"}.get(skin.face, "horizontal")
    return film("corner" if skin.face == "corner" else "still air", way, skin.emissivity)


def _dampest(skin: Skin, condition: str, airs: Airs, share: float) -> Damp | None:
    """The interface that is farthest below, or least above, its limit."""
    solved = profile(skin, condition, airs)
    points = enumerate(zip(solved.temperatures, solved.vapours, strict=True))
    near = [
        (vapour / moist.saturation_pressure(warm - MARGIN), index)
        for index, (warm, vapour) in points
        if _may_sweat(warm, vapour, airs) and _gathers(skin, index, (warm, vapour), airs, share)
    ]
    if not near:
        return None
    _, index = max(near)
    warm, vapour = solved.temperatures[index], solved.vapours[index]
    return Damp(
        skin=skin,
        condition=condition,
        airs=airs,
        index=index,
        temperature=warm,
        low=warm,
        high=warm,
        dew=moist.dew_point(vapour),
        humidity=vapour / moist.saturation_pressure(warm),
    )


def _may_sweat(warm: float, vapour: float, airs: Airs) -> bool:
    """Not where a surface is as warm as an air that is at least as moist."""
    return not any(
        warm >= air.temperature - SAME and vapour <= 1.02 * air.vapour for air in (airs.inside, airs.outside)
    )


def _gathers(skin: Skin, index: int, point: tuple[float, float], airs: Airs, share: float) -> bool:
    """Between tight layers too little vapour passes to matter, whatever the steady balance says in the end.

    Water gathers only while its state lasts: `share` of the time the air is on.
    """
    warm, vapour = point
    saturated = moist.saturation_pressure(warm - MARGIN)
    if index in (0, len(skin.sheets)) or vapour <= saturated:
        return True
    rate = condensing(skin.sheets, index, (airs.inside.vapour, airs.outside.vapour), saturated)
    return rate * (share if airs.moving else 1.0 - share) >= TRICKLE


def every_face(plan: Plan, found: Found) -> Iterator[tuple[Skin, str, Airs, Interfaces]]:
    """Every interface of every face of boxes and ducts in every hour, with the air off and on."""
    for skin, condition, states in _cases(plan, found, CONDITIONS, ""):
        for airs in states:
            yield skin, condition, airs, profile(skin, condition, airs)


def place_words(made: tuple[Sheet, ...], index: int) -> str:
    """An interface in words, from its index counted from inside."""
    if index == 0:
        return f"on the inner face of the {made[0].name}"
    if index == len(made):
        return f"on the outside of the {made[-1].name}"
    return f"between {made[index - 1].name} and {made[index].name}"


def _both(key: str) -> tuple[float, float]:
    return 1.0 - scatter(key), 1.0 + scatter(key)


def _reach(skin: Skin, condition: str, airs: Airs) -> Iterator[Interfaces]:
    """The face with films and insulation at both ends of what is known of them."""
    for slower in _both("surface film"):
        for thinner in _both("insulation"):
            yield profile(skin, condition, airs, slower, thinner)


def _with_range(each: Damp) -> Damp:
    """The same with the range that films and insulation leave."""
    found = [made.temperatures[each.index] for made in _reach(each.skin, each.condition, each.airs)]
    return replace(each, low=min(*found, each.temperature), high=max(*found, each.temperature))


def moulds(plan: Plan, found: Found, subject: str = "") -> tuple[Mould, ...]:
    """The dampest interface of every box and every run's ducts on the mean of thirty days, or of one subject only."""
    worst: dict[str, Mould] = {}
    for skin, condition, (off, *running) in _cases(plan, found, MONTHS, subject):
        for airs in running or [off]:
            one = _mean(plan, skin, condition, (off, airs))
            if one is not None and (skin.subject not in worst or one.humidity > worst[skin.subject].humidity):
                worst[skin.subject] = one
    return tuple(_mould_with_range(plan, each) for each in worst.values())


def _mean(plan: Plan, skin: Skin, condition: str, states: tuple[Airs, Airs]) -> Mould | None:
    """Humidity at each interface, weighted by the time that air runs; the dampest that mould can live at."""
    solved = (profile(skin, condition, states[0]), profile(skin, condition, states[1]))
    best: Mould | None = None
    for index in range(len(skin.sheets) + 1):
        points = [(each.temperatures[index], each.vapours[index]) for each in solved]
        if not _fed(skin, index) or not any(map(_may_sweat, *zip(*points, strict=True), states)):
            continue
        warm, mean = _weighted(plan.session.hours, points)
        if COLDEST_MOULD <= warm <= WARMEST_MOULD and (best is None or mean > best.humidity):
            best = Mould(
                skin=skin,
                condition=condition,
                states=states,
                index=index,
                humidity=mean,
                low=mean,
                high=mean,
                temperature=warm,
            )
    return best


def _fed(skin: Skin, index: int) -> bool:
    """Whether vapour reaches an interface from at least one side."""
    sides = (skin.sheets[:index], skin.sheets[index:])
    return min(sum(each.sd for each in side) for side in sides) < SHUT


def _weighted(share: float, points: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean temperature and humidity of (off, on) by the share of time on; nothing is damper than wet."""
    off, on = (min(vapour / moist.saturation_pressure(warm), 1.0) for warm, vapour in points)
    return (1.0 - share) * points[0][0] + share * points[1][0], (1.0 - share) * off + share * on


def _mould_with_range(plan: Plan, each: Mould) -> Mould:
    """The same with the range that films, insulation and the month's weather leave."""
    reaches = zip(*(_reach(each.skin, each.condition, airs) for airs in each.states), strict=True)
    means = [
        _weighted(plan.session.hours, [(made.temperatures[each.index], made.vapours[each.index]) for made in pair])[1]
        for pair in reaches
    ]
    wide = scatter("thirty days of weather")
    return replace(each, low=min(*means, each.humidity) - wide, high=min(max(*means, each.humidity) + wide, 1.0))


def moisture_findings(plan: Plan, damp: tuple[Damp, ...], mould: tuple[Mould, ...]) -> Iterator[Finding]:
    """Each box at its dampest and by its mean, and the ducts that are not well."""
    subjects = dict.fromkeys(each.skin.subject for each in damp)
    worst = [max((each for each in damp if each.skin.subject == subject), key=_nearness) for subject in subjects]
    wet = [_wet_finding(plan, each) for each in worst]
    sodden = {finding.subject for finding in wet if finding.missed}
    told = wet + [_mould_finding(plan, each) for each in mould if each.skin.subject not in sodden]
    for finding in told:
        if finding.subject in plan.box or finding.low is None or not _well(finding):
            yield finding


def _well(finding: Finding) -> bool:
    """Whether a duct is dry and free of mould, range and all: then the table says so."""
    assert finding.value is not None
    assert finding.limit is not None
    upper = finding.question == "mould"
    return (finding.high or 0.0) <= finding.limit if upper else (finding.low or 0.0) >= finding.limit


def _known(plan: Plan, skin: Skin, condition: str) -> bool:
    """Whether the weather that a finding rests on is stated; a judgement on assumed weather is only a note."""
    space = plan.space.get(skin.within)
    return weather_known(plan, condition) or (space is not None and condition in space.air)


def _wet_finding(plan: Plan, each: Damp) -> Finding:
    known = _known(plan, each.skin, each.condition)
    verdict: Standing = standing(-each.temperature, -each.high, -each.low, -each.limit)
    return Finding(
        subject=each.skin.subject,
        question="moisture",
        mode="",
        standing=verdict if known else "note",
        value=each.temperature,
        low=each.low,
        high=each.high,
        limit=each.limit,
        unit="°C",
        sentence=_wet_words(plan, each, verdict) + ("" if known else " The weather is assumed: state it under [site]."),
        method="steady heat and vapour through the layers, films by orientation and emissivity",
        widest="surface film" if "outside" in each.at else "insulation",
    )


def _wet_words(plan: Plan, each: Damp, verdict: Standing) -> str:
    name, weather = _name(each.skin), each.condition.replace("_", " ")
    running = f"with the air {OFF if each.airs.mode == OFF else ON}"
    told = "wet" if each.wet else "likely dry" if verdict == "likely met" else "dry"
    near = " (a corner)" if each.skin.face == "corner" else ""
    surface = f"{degrees(plan, each.temperature)} {each.at}{near}"
    span = f"{degrees(plan, each.low)} to {degrees(plan, each.high)}"
    dew = f"dew point {degrees(plan, each.dew)}"
    day = f"{'in winter' if weather == 'winter' else f'on a {weather}'}, {running}"
    place = plan.place_name(each.skin.within).lower()
    words = f"{name} in the {place}, {day}: {surface} ({span}), {dew}: {told}."
    return words + (_leak_words(each) if each.wet or verdict != "met" else "")


def _leak_words(each: Damp) -> str:
    """Where the moisture comes from, and so where it must be stopped."""
    outward = each.airs.inside.vapour > each.airs.outside.vapour
    if outward:
        return (
            " Room air that reaches the cold casing leaves its water there: seal every seam from inside, and insulate "
            "outside."
        )
    return " The air around it leaves its water there: close the jacket at every seam, collar and strap."


def _name(skin: Skin) -> str:
    return f"The {skin.label}" if skin.label.startswith("box ") else f"{skin.run}, {skin.label}"


def _mould_finding(plan: Plan, each: Mould) -> Finding:
    known = _known(plan, each.skin, each.condition)
    verdict = standing(each.humidity, each.low, each.high, MOULD)
    season = each.condition.replace("_month", "")
    span = f"{100 * each.humidity:.0f} % ({100 * each.low:.0f} to {100 * each.high:.0f})"
    return Finding(
        subject=each.skin.subject,
        question="mould",
        mode="",
        standing=verdict if known else "note",
        value=each.humidity,
        low=each.low,
        high=each.high,
        limit=MOULD,
        unit="of saturation",
        sentence=(
            f"{_name(each.skin)}: over thirty days of {season} the mean humidity {each.at} is {span} against 80 % for "
            f"mould: {VERDICT[verdict]}.{'' if known else ' The weather is assumed: state it under [site].'}"
        ),
        method="mean of air on and off in the month's mean weather; ASHRAE 160-2009",
        widest="how many hours air runs, and the month's weather",
    )
