"""Small plans for tests, written as project files are."""

from __future__ import annotations

from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan

ROOMS = """
[room.here]
length = "4 m"
width = "3 m"
height = "2.4 m"

[room.there]
length = "5 m"
width = "3.2 m"
height = "2.5 m"
"""

FAN = """
[space.loft]
is = "attic"

[mover.fan]
is = "inline fan"
in = "loft"
curve = [["0 L/s", "150 Pa"], ["60 L/s", "120 Pa"], ["120 L/s", "0 Pa"]]
sound = { outlet = [60, 60, 60, 60, 60, 60, 60, 60], casing = [50, 50, 50, 50, 50, 50, 50, 50] }

[run.draw]
from = "here"
to = "fan.inlet"
size = "160 mm"
"""


def written(text: str) -> Plan:
    """The plan that a text states."""
    return plan_of(parsed(text, "small.toml"))


def between(parts: str, size: str = "160 mm") -> Plan:
    """Two rooms, a fan that draws from the first, and a run from it to the second holding `parts`."""
    return written(f'{ROOMS}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "{size}"\nparts = [{parts}]\n')


def transfer(parts: str, size: str = "160 mm") -> Plan:
    """Two rooms joined by a run from the first to the second holding `parts`, with a fan drawing from the first."""
    return written(f'{ROOMS}{FAN}\n[run.way]\nfrom = "there"\nto = "here"\nsize = "{size}"\nparts = [{parts}]\n' + BACK)


BACK = """
[run.back]
from = "fan.outlet"
to = "there"
size = "160 mm"
"""
