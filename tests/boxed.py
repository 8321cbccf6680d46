"""Small boxes of every family in one duct, quick to solve."""

from __future__ import annotations

from functools import cache

from small import FAN, ROOMS, written
from sordino.plan.statement import Plan

BOXES = {
    "serpentine": 'family = "serpentine"\nlength = "0.7 m"\nwidth = "0.3 m"\nheight = "0.5 m"\npasses = 2\n',
    "labyrinth": 'family = "labyrinth"\nlength = "0.6 m"\nwidth = "0.3 m"\nheight = "0.42 m"\nlining = "25 mm"\n',
    "straight": 'family = "straight"\nlength = "0.8 m"\nwidth = "0.25 m"\nheight = "0.25 m"\npasses = 1\n',
    "plenum": 'family = "plenum"\nlength = "0.5 m"\nwidth = "0.4 m"\nheight = "0.4 m"\npasses = 1\n',
    "shallow": 'family = "shallow"\nlength = "0.7 m"\nwidth = "0.5 m"\nheight = "0.16 m"\nlining = "25 mm"\n',
    "roof": (
        'family = "custom"\nlength = "0.7 m"\nwidth = "0.3 m"\nheight = "0.45 m"\n'
        'right_slope = { run = "0.3 m", drop = "0.2 m" }\n'
        'inlet = { face = "left", along = "120 mm" }\noutlet = { face = "floor", along = "550 mm" }\n'
        'dividers = [{ from = ["300 mm", "0 mm"], to = ["318 mm", "250 mm"] }]\n'
        'linings = [{ face = "ceiling", thickness = "50 mm" }, { face = "right slope", thickness = "50 mm" }]\n'
        'faces = { floor = [{ board = "plywood", thickness = "18 mm" }, { damping = true }, '
        '{ board = "plywood", thickness = "18 mm" }] }\n'
    ),
    "sideways": (
        'family = "custom"\nlength = "0.6 m"\nwidth = "0.3 m"\nheight = "0.4 m"\n'
        'inlet = { face = "ceiling", along = "150 mm" }\noutlet = { face = "front", along = "400 mm" }\n'
        'linings = [{ face = "floor", thickness = "50 mm" }]\n'
    ),
}
"""The tables of one box of each family, and of two stated in full."""


def boxed(name: str = "labyrinth", units: str = "metric", **changed: str) -> Plan:
    """A plan whose one duct holds the box of that name; `changed` are lines written instead."""
    table = "".join(
        f"{key} = {changed.pop(key)}\n" if (key := line.partition(" ")[0]) in changed else f"{line}\n"
        for line in BOXES[name].splitlines()
    )
    more = "".join(f"{key} = {value}\n" for key, value in changed.items())
    parts = f'parts = [{{ is = "lined box", box = "{name}" }}]'
    run = f'\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nin = "loft"\nsize = "125 mm"\n{parts}\n'
    return written(f'units = "{units}"\n{ROOMS}{FAN}{run}\n[box.{name}]\n{table}{more}')


@cache
def plan_text(name: str = "labyrinth") -> str:
    """The same as a project file."""
    parts = f'parts = [{{ is = "lined box", box = "{name}" }}]'
    run = f'\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nin = "loft"\nsize = "125 mm"\n{parts}\n'
    return f"{ROOMS}{FAN}{run}\n[box.{name}]\n{BOXES[name]}"
