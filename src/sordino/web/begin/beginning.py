"""A new project from a few answers: a first plan that works, to be changed from there."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

import tomlkit

from sordino.assess.assessment import Assessment, assess
from sordino.elements.box import SMALLEST, Box, Family
from sordino.elements.box_layout import Clash, layout
from sordino.errors import Refusal
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.quantities import Size
from sordino.units import System
from sordino.web.begin.answers import Answers, RoomAnswers, answers
from sordino.web.begin.nominal import NOMINAL, area, flow, opening, pressure
from sordino.web.project.written import length

AIR = {"seated": 40.0, "drumming": 75.0}
"""Fresh air for each person to begin with, m3/h; the assessment then says whether it does."""
DUCTS = {"metric": (0.125, 0.16, 0.2, 0.25, 0.315), "inch": (0.127, 0.1524, 0.2032, 0.254, 0.3048)}
"""Round ducts to choose from, m."""
QUIET = 1.6
"""Air speed in the ducts that is aimed at, m/s."""
CASING = 0.040
"""Thickness of two boards with damping between them, m."""
GAP = 0.018
SPEEDS = (30, 40, 50, 60, 80)
"""Fan speeds that are tried for recording, %."""


def begun(form: Mapping[str, str]) -> str:
    """The text of a new project; a Refusal says which answer leaves no room for one."""
    told = answers(form)
    tried = ((speed, _text(told, speed)) for speed in SPEEDS)
    text = ""
    for _, text in tried:
        if _breathes(assess(plan_of(parsed(text, "new project")), fields=False)):
            return text
    return text


def _breathes(found: Assessment) -> bool:
    """Whether fresh air and flows are met in every mode."""
    return not any(each.missed for each in found.findings if each.question in ("fresh air", "flow", "carbon dioxide"))


def _text(told: Answers, speed: int) -> str:
    flows = [AIR[room.use.activity] * room.people for room in told.rooms]
    ducts = [_duct(flow, told.units) for flow in flows]
    trunk = _duct(sum(flows), told.units)
    keys = ["room" if len(told.rooms) == 1 else f"room-{number}" for number in range(1, len(told.rooms) + 1)]
    blocks = [
        _head(told),
        *(_room(*each, told.units) for each in zip(keys, told.rooms, strict=True)),
        _around(told, keys),
        _fan(told, sum(flows), speed),
    ]
    blocks += [_boxes(told, key, duct) for key, duct in zip(keys, ducts, strict=True)]
    blocks.append(_trunk(told, trunk))
    several = len(keys) > 1
    blocks += [_ways(told, *each, several) for each in zip(keys, flows, ducts, strict=True)]
    return "\n".join(blocks)


def _q(text: str) -> str:
    return tomlkit.item(text).as_string()


def _head(told: Answers) -> str:
    return f"""# Begun from a few questions; all of it is there to be changed. Sizes of boxes are inside sizes.

title = {_q(told.title)}
units = {_q(told.units)}
"""


def _room(key: str, room: RoomAnswers, units: System) -> str:
    sides = zip(("length", "width", "height"), room.sides, strict=True)
    lined = max(0.35 * 2.0 * (room.metres[0] + room.metres[1]) * room.metres[2], 1.0)
    return f"""[room.{key}]
name = {_q(room.name)}
use = {_q(room.use.title)}
target = {_q(room.use.target)}
{chr(10).join(f"{side} = {_q(text)}" for side, text in sides)}
surfaces = {{ floor = "thick carpet on pad", patches = [
  {{ surface = "mineral wool 50 mm 64 kg/m3", area = {_q(area(round(lined), units))} }}, # what hangs on the walls
] }}
people = [{{ count = {room.people}, activity = {_q(room.use.activity)} }}]
gear = "60 W"
listener = {_q(NOMINAL[units].listener)} # from the nearest grille to the microphone or ear
loudest = {_q(room.use.loudest)}
"""


def _around(told: Answers, keys: list[str]) -> str:
    nominal = NOMINAL[told.units]
    size = f"\nvolume = {_q(nominal.volumes[told.space != 'room'])}"
    name = {"attic": "Loft", "void": "Void", "room": "Next room"}[told.space]
    shells = [
        f"""
[shell.{key}-side]
between = ["{key}", "ducts"]
area = {_q(area(room.area, told.units))}
layers = [
  {{ board = "gypsum board", thickness = {_q(nominal.gypsum)} }},
  {{ damping = true }},
  {{ board = "gypsum board", thickness = {_q(nominal.gypsum)} }},
  {{ cavity = {_q(nominal.cavity)} }},
  {{ board = "OSB", thickness = {_q(nominal.board)} }},
]
"""
        for key, room in zip(keys, told.rooms, strict=True)
    ]
    return f"""# where the ducts run

[space.ducts]
is = {_q(told.space)}
name = {_q(name)}{size}

[space.outside]
is = "outside"
name = "Outdoors"
{"".join(shells)}"""


def _fan(told: Answers, most: float, speed: int) -> str:
    shares = ((0.0, 260.0), (2.0, 200.0), (4.0, 0.0))
    points = ", ".join(
        f"[{_q(flow(share * most, told.units))}, {_q(pressure(pascals, told.units))}]" for share, pascals in shares
    )
    return f"""# one fan brings outdoor air in; the rooms let it out again through a box each

[mover.fan]
is = "inline fan"
name = "Fan"
in = "ducts"
curve = [{points}]
sound = {{ rated = "38 dBA", at = "1 m" }} # better: outlet, inlet and casing = [eight octaves]

[mode.record]
speeds = {{ fan = "{speed} %" }}

[mode.break]
speeds = {{ fan = "{min(speed + 30, 100)} %" }}
"""


def _boxes(told: Answers, key: str, duct: float) -> str:
    box = _box(told, duct)
    family = f"family = {_q(box.family)}\n" + "".join(
        f"{side} = {_q(length(getattr(box, side), told.units))}\n" for side in ("length", "width", "height")
    )
    nominal = NOMINAL[told.units]
    sheet = f'{{ board = "plywood", thickness = {_q(nominal.board)} }}'
    shell = f"shell = [{sheet}, {{ damping = true }}, {sheet}]"
    body = f"""{family}passes = {box.passes}
lining = {_q(length(box.lining, told.units))}
fill = {{ density = {_q(nominal.fibre)}, facing = "tissue", burning = "rated" }}
{shell}
"""
    return f"[box.{key}-in]\n{body}\n[box.{key}-out]\n{body}"


def _box(told: Answers, duct: float) -> Box:
    """The box with most passes that the spare room holds, lined as thickly as that allows."""
    inside = [side - 2.0 * CASING for side in told.spare]
    if min(inside) < SMALLEST:
        raise Refusal("that leaves no room for a box with heavy walls", "give at least 200 mm each way")
    for passes, lining in product((3, 2, 1), NOMINAL[told.units].linings):
        box = _candidate(inside, passes, lining, duct)
        if _lies(box, duct):
            return box
    raise Refusal(
        "no lined box for such a duct goes in there",
        f"give more height than {length(duct + 2.0 * CASING + 0.05, told.units)}, or fewer people to a room",
    )


def _candidate(inside: list[float], passes: int, lining: float, duct: float) -> Box:
    one = max(duct, 0.6 * duct + 2.0 * lining) + 0.005
    height = passes * one + (passes - 1) * GAP
    family: Family = "straight" if passes == 1 else "labyrinth"
    return Box.model_construct(
        family=family,
        length=min(inside[0], 1.2),
        width=min(inside[1], max(2.0 * duct, 0.3)),
        height=max(height, SMALLEST) if height <= inside[2] else float("nan"),
        passes=passes,
        lining=lining,
    )


def _lies(box: Box, duct: float) -> bool:
    if box.height != box.height or box.width < duct + 0.02:
        return False
    try:
        return layout(box, Size.circle(duct)).length > 0.0
    except Clash:
        return False


def _duct(flow: float, units: System) -> float:
    """The first round duct in which that flow, m3/h, is quiet."""
    ducts = DUCTS[units]
    return next((each for each in ducts if flow / 3600.0 <= QUIET * 0.785 * each**2), ducts[-1])


def _trunk(told: Answers, duct: float) -> str:
    size, nominal = _q(length(duct, told.units)), NOMINAL[told.units]
    face = _q(opening(2.2 * duct, 2.2 * duct, told.units))
    several = len(told.rooms) > 1
    ends = 'to = "split"' if several else 'to = "room"'
    split = f"""[run.trunk]
from = "fan.outlet"
{ends}
in = "ducts"
size = {size}
parts = [{{ is = "flexible duct", length = {_q(nominal.middle)}, pull = "tight" }}]

[junction.split]
is = "branch"
in = "ducts"
"""
    return f"""# the ways of the air, part by part

[run.intake]
from = "outside"
to = "fan.inlet"
in = "ducts"
size = {size}
parts = [
  {{ is = "grille", face = "louvre", opening = {_q(opening(1.6 * duct, 1.6 * duct, told.units))} }},
  {{ is = "filter", depth = {_q(nominal.filter)}, merv = 11, face = {face} }},
  {{ is = "metal duct", length = {_q(nominal.short)} }},
]

{split if several else ""}"""


def _ways(told: Answers, key: str, air: float, duct: float, several: bool) -> str:
    start, size = ("split" if several else "fan.outlet"), _q(length(duct, told.units))
    inner, pipe = _q(opening(2.0 * duct, duct, told.units)), _q(NOMINAL[told.units].long)
    return f"""[run.{key}-supply]
from = "{start}"
to = "{key}"
in = "ducts"
size = {size}
wanted = {_q(flow(air, told.units))}
parts = [
  {{ is = "flexible duct", length = {pipe}, pull = "ordinary" }},
  {{ is = "lined box", box = "{key}-in" }},
  {{ is = "grille", face = "bar", opening = {inner} }},
]

[run.{key}-relief]
from = "{key}"
to = "outside"
in = "ducts"
size = {size}
parts = [
  {{ is = "grille", face = "egg-crate", opening = {inner} }},
  {{ is = "lined box", box = "{key}-out" }},
  {{ is = "flexible duct", length = {pipe}, pull = "ordinary" }},
  {{ is = "grille", face = "louvre", opening = {_q(opening(1.6 * duct, 1.6 * duct, told.units))} }},
]
"""
