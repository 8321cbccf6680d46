"""Two rooms to be measured, and one test of them read as a person states it."""

from __future__ import annotations

from pathlib import Path

from small import FAN, ROOMS, written
from sordino.measure.measurement import measure
from sordino.measure.result import Measurement

WALL = """
[shell.wall]
between = ["here", "there"]
area = "7 m2"
loss = [30, 36, 42, 48, 52, 55, 55, 55]

[run.way]
from = "fan.outlet"
to = "there"
size = "160 mm"
"""


def house(vent: str) -> str:
    """Two rooms with a wall between them, a fan, and a vent of the given parts through the wall."""
    return f'{ROOMS}{FAN}{WALL}\n[run.vent]\nfrom = "there"\nto = "here"\nsize = "125 mm"\nparts = [{vent}]\n'


def gives(statement: str, folder: Path = Path(), *, plan: str) -> Measurement:
    """The one test, `t`, of a plan."""
    return measure(written(f"{plan}\n[test.t]\n{statement}"), "t", folder)
