"""Fresh air, carbon dioxide, heat and humidity as tables and a picture; rules of thumb beside what is needed."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sordino.assess.assessment import Assessment
from sordino.assess.cooling import RoomHeat
from sordino.assess.finding import Finding
from sordino.assess.freshair import FreshAir, rules_of_thumb
from sordino.assess.session import Session
from sordino.assess.wording import degrees
from sordino.kinds import BTU_PER_HOUR
from sordino.report import layout
from sordino.report.phrases import flow
from sordino.units import show

MOMENTS = 6
"""Equal parts of a session that the table tells of."""
PICTURE, TALL = 60, 8
"""Columns and rows of the picture."""
SHOWN = 0.5
"""Share of a limit under which a picture would be empty."""


def tabled(finding: Finding) -> bool:
    """Whether a note's figures stand in these tables; heat that air alone can't carry is told in words as well."""
    if finding.question == "cooling":
        return (finding.value or 0.0) <= (finding.limit or math.inf)
    return finding.question in ("carbon dioxide", "humidity") or (
        finding.question == "fresh air" and "no fresh air" not in finding.sentence
    )


def fresh_air(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """What fresh air comes to each room, what it needs, and what becomes of the carbon dioxide."""
    told = [each for each in found.indoors.fresh if each.mode in modes and each.people]
    if not told:
        return []
    head = ["room", "mode", "people", "fresh air", "by rate", "for CO2", "CO2 at end", "passes", "settles"]
    rows = [_fresh_row(found, each) for each in told]
    limits = sorted({f"{each.limit:.0f} ppm" for each in told})
    note = (
        f"by rate: {_rate(found)} of floor. for CO2: what holds {' or '.join(limits)} for good; "
        "passes: when that is passed with the door shut."
    )
    return [*layout.heading("Fresh air"), *layout.grid(head, rows, left=2), *layout.paragraph(note)]


def _rate(found: Assessment) -> str:
    metric = found.plan.units == "metric"
    return "5 L/s a person and 0.3 L/s for each m2" if metric else "10 cfm a person and 0.06 cfm for each ft2"


def _fresh_row(found: Assessment, each: FreshAir) -> list[str]:
    return [
        found.plan.place_name(each.room),
        each.mode,
        str(each.people),
        flow(found.plan, each.flow),
        flow(found.plan, each.need),
        flow(found.plan, each.need_co2),
        f"{each.end:.0f} ppm",
        "not" if each.reached is None else f"{each.reached / 60.0:.0f} min",
        "climbs on" if math.isinf(each.settles) or each.settles > 1e5 else f"{each.settles:.0f} ppm",
    ]


def rules(found: Assessment) -> list[str]:
    """The familiar rules of thumb beside the computed need, what rules being marked."""
    lines: list[str] = []
    misses: dict[str, str] = {}
    for room, statement in found.plan.room.items():
        people = sum(each.count for each in statement.people)
        if people:
            heat = next(each for each in found.indoors.heat if each.room == room)
            fresh = next(each for each in found.indoors.fresh if each.room == room)
            known = rules_of_thumb(people, statement.volume)
            misses |= {rule.words: rule.misses for rule in known}
            rows = [[rule.words, flow(found.plan, rule.fresh), flow(found.plan, rule.supply)] for rule in known]
            rows += _computed(found, fresh, heat)
            lines += ["", *layout.grid([found.plan.place_name(room), "fresh air", "all supply"], rows)]
    told = [line for rule, words in misses.items() for line in layout.hanging("-", f"{rule} misses {words}.", 2)]
    if not lines:
        return []
    return [*layout.heading("Rules of thumb beside what is computed"), *lines[1:], "", *told]


def _computed(found: Assessment, fresh: FreshAir, heat: RoomHeat) -> list[list[str]]:
    needs = {"rate per person and floor": fresh.need, f"{fresh.limit:.0f} ppm for good": fresh.need_co2}
    most = max(needs, key=lambda name: needs[name])
    rows = [
        [f"computed: {name}{' (governs)' if name == most else ''}", flow(found.plan, need), layout.NOTHING]
        for name, need in needs.items()
    ]
    cold = degrees(found.plan, heat.coldest)
    told = f"computed: heat of {show(round(heat.load), 'power', found.plan.units)}, air at {cold}"
    return [*rows, [told, layout.NOTHING, flow(found.plan, heat.supply_needed)]]


def sessions(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Carbon dioxide, temperature and humidity against time, and the carbon dioxide as a picture."""
    lines: list[str] = []
    for name, told in found.indoors.sessions.items():
        if name in modes or name not in found.plan.mode:
            lines += [line for room in told.rooms if _occupied(found, room) for line in _table(found, told, room)]
    if not lines:
        return []
    day = found.plan.session.condition.replace("_", " ")
    title = f"A session of {show(found.plan.session.length, 'time', 'metric')} on a {day}, door shut"
    return [*layout.heading(title), *lines[:-1], *_pictures(found, modes)]


def _occupied(found: Assessment, room: str) -> bool:
    return any(each.count for each in found.plan.room[room].people)


def _table(found: Assessment, told: Session, room: str) -> list[str]:
    moments = [told.length * index / MOMENTS for index in range(MOMENTS + 1)]
    place = told.rooms.index(room)
    warm = [float(told.temperature[told.at(moment), place]) for moment in moments]
    rows = [
        ["carbon dioxide, ppm", *[f"{told.co2[told.at(moment), place]:.0f}" for moment in moments]],
        ["temperature", *[degrees(found.plan, value) for value in warm]],
        ["relative humidity", *[_percent(told.humidity(room, moment)) for moment in moments]],
    ]
    head = [f"{found.plan.place_name(room)}, {told.name}", *[f"{moment / 60.0:.0f} min" for moment in moments]]
    return [*layout.grid(head, rows), ""]


def _percent(share: float) -> str:
    return "fog" if share > 1.0 else f"{100 * share:.0f} %"


def _pictures(found: Assessment, modes: tuple[str, ...]) -> Iterator[str]:
    """Each room's carbon dioxide in every mode as one picture."""
    names = [name for name in found.indoors.sessions if name in modes or name not in found.plan.mode]
    for room in found.plan.room:
        limit = next(each.limit for each in found.indoors.fresh if each.room == room)
        curves = {name: _curve(found.indoors.sessions[name], room) for name in names}
        if _occupied(found, room) and max(max(curve) for curve in curves.values()) > SHOWN * limit:
            yield from _picture(found, room, curves, limit)


def _curve(told: Session, room: str) -> list[float]:
    place = told.rooms.index(room)
    return [float(told.co2[told.at(told.length * step / (PICTURE - 1)), place]) for step in range(PICTURE)]


def _picture(found: Assessment, room: str, curves: dict[str, list[float]], limit: float) -> Iterator[str]:
    top = 200.0 * math.ceil(max(limit, *(max(curve) for curve in curves.values())) / 200.0)
    marks = dict(zip(curves, "*o+x#@%&", strict=False))
    yield ""
    key = ", ".join(f"{mark} {name}" for name, mark in marks.items())
    yield f"Carbon dioxide in the {found.plan.place_name(room).lower()}: {key}; - - the limit"
    step = (top - 400.0) / TALL
    for row in range(TALL, -1, -1):
        level = 400.0 + row * step
        cells = ["-" if abs(limit - level) <= step / 2.0 and at % 2 == 0 else " " for at in range(PICTURE)]
        for name, curve in curves.items():
            for at, value in enumerate(curve):
                if abs(value - level) <= step / 2.0:
                    cells[at] = marks.get(name, "*")
        yield f"{level:>8.0f} ppm |{''.join(cells)}"
    ends = next(iter(found.indoors.sessions.values())).length / 60.0
    yield f"{'':>12} +{'-' * PICTURE}"
    yield f"{'':>12}  0{f'{ends:.0f} min':>{PICTURE - 1}}"


def heat(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """What must be taken out of each room and what can be."""
    told = [each for each in found.indoors.heat if each.mode in modes and each.gains.sensible > 0.0]
    if not told:
        return []
    unit = "W" if found.plan.units == "metric" else "BTU/h"
    head = ["room", "mode", "people", "gear, lights", "shell", "fresh air", "in all", "unit can", "vapour", "at end"]
    rows = [_heat_row(found, each) for each in told]
    day = found.plan.session.condition.replace("_", " ")
    note = (
        f"Sensible heat at the temperature held, on a {day}, at the site's altitude; a minus leaves the room. "
        "vapour: latent heat of people, which a coil takes out only where it is colder than the dew point."
    )
    return [*layout.heading(f"Heat, {unit}"), *layout.grid(head, rows, left=2), *layout.paragraph(note)]


def _heat_row(found: Assessment, each: RoomHeat) -> list[str]:
    units = found.plan.units
    powers = (
        each.gains.people,
        each.gains.gear + each.gains.lights,
        each.shell,
        each.air,
        each.load,
        each.carries,
        each.gains.latent,
    )
    told = [f"{power / (1.0 if units == 'metric' else BTU_PER_HOUR):z.0f}" for power in powers]
    told[5] = told[5] if each.unit else layout.NOTHING
    return [found.plan.place_name(each.room), each.mode, *told, degrees(found.plan, each.end)]


def choices(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Humidity with each way of bringing the same fresh air."""
    told = [each for each in found.indoors.choices if each.mode in modes]
    if not told:
        return []
    head = ["room", "with", *[name.replace("_", " ") for name in told[0].by_hour], "arrives", "dehumidifier"]
    rows = [
        [
            found.plan.place_name(each.room),
            each.name,
            *[_percent(share) for share in each.by_hour.values()],
            degrees(found.plan, each.arrives),
            f"{3.6e6 * each.water:.0f} g/h" if each.water > 0.0 else "none",
        ]
        for each in told
    ]
    limits = " or ".join(sorted({f"{100 * each.limit:.0f} %" for each in told}))
    note = (
        "Humidity at the temperature held, at the end of a session. arrives: fresh air in winter, before it is heated. "
        f"dehumidifier: what holds {limits} on the humid night without a coil."
    )
    title = "Fan alone, recovery or a dehumidifier"
    return [*layout.heading(title), *layout.grid(head, rows, left=2), *layout.paragraph(note)]


def humidity(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Relative humidity of each room at the end of a session in each hour that tries it."""
    told = [each for each in found.indoors.humidity if each.mode in modes and _occupied(found, each.room)]
    if not told:
        return []
    conditions = tuple(told[0].by_condition)
    head = ["room", "mode", *[name.replace("_", " ") for name in conditions]]
    rows = [
        [found.plan.place_name(each.room), each.mode, *[_percent(each.by_condition[name]) for name in conditions]]
        for each in told
    ]
    note = "Errs upwards: plaster, carpet and cloth take water up for hours, and nothing is counted for that."
    title = "Humidity in the rooms at the end of a session"
    return [*layout.heading(title), *layout.grid(head, rows, left=2), *layout.paragraph(note)]
