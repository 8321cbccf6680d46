"""A booth with a box that stands, hangs, is lifted and passes a hatch; and the same with one thing mended."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan

BOOTH = """
[room.booth]
length = "2.0 m"
width = "1.4 m"
height = "2.1 m"
people = [{ count = 1, activity = "singing" }]
target = "NC-30"

[space.loft]
is = "attic"

[space.outside]
is = "outside"

[shell.ceiling]
between = ["booth", "loft"]
area = "2.8 m2"
layers = [
  { board = "gypsum board", thickness = "15 mm" },
  { cavity = "150 mm" },
  { board = "OSB", thickness = "18 mm" },
]

[mover.fan]
is = "inline fan"
in = "loft"
curve = [["0 L/s", "150 Pa"], ["60 L/s", "120 Pa"], ["120 L/s", "0 Pa"]]
sound = { outlet = [60, 60, 60, 60, 60, 60, 60, 60], casing = [50, 50, 50, 50, 50, 50, 50, 50] }

[box.muffler]
family = "straight"
passes = 1
length = "1.20 m"
width = "0.45 m"
height = "0.40 m"
lining = "50 mm"
fill = { burning = "rated", facing = "tissue" }
shell = [{ board = "plywood", thickness = "18 mm" }, { damping = true }, { board = "plywood", thickness = "18 mm" }]

[run.draw]
from = "booth"
to = "fan.inlet"
size = "160 mm"
in = "loft"
parts = [{ is = "grille" }, { is = "metal duct", length = "1 m" }, { is = "lined box", box = "muffler" }]

[run.out]
from = "fan.outlet"
to = "outside"
size = "160 mm"
in = "loft"
parts = [{ is = "open end", at = ["0 m", "0 m", "3 m"] }]

[run.fresh]
from = "outside"
to = "booth"
size = "160 mm"
in = "loft"
parts = [{ is = "open end", at = ["4 m", "0 m", "3 m"] }, { is = "metal duct", length = "1 m" }, { is = "open end" }]

[opening.hatch]
is = "hatch"
width = "0.62 m"
height = "0.55 m"

[joists.loft]
width = "38 mm"
depth = "140 mm"
span = "3.66 m"
spacing = "400 mm"
dead = "24 kg/m2"
part_of = { shell = "ceiling", leaf = 2 }

[stand.muffler]
clear = { length = "2.5 m", profile = [["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]] }
way = ["hatch"]
lift = { persons = 2 }
hung = { from = "loft", screw = "lag screw", diameter = "6.35 mm", thread = "50 mm", deflection = "10 mm" }
ties = [{ shell = "ceiling", leaf = 1, by = "gasket" }]
"""


def changed(*edits: tuple[str, str]) -> str:
    """The booth with texts replaced, each of which must be there."""
    text = BOOTH
    for was, now in edits:
        assert was in text, was
        text = text.replace(was, now)
    return text


def booth(*edits: tuple[str, str]) -> Plan:
    """The booth as a plan."""
    return plan_of(parsed(changed(*edits), "booth.toml"))


def assessed(*edits: tuple[str, str]) -> Assessment:
    """The booth assessed."""
    return assess(booth(*edits))


def asked(found: Assessment, question: str, unit: str | None = None) -> Iterator[Finding]:
    """Findings of one question."""
    return (each for each in found.findings if each.question == question and unit in (None, each.unit))


def missed(found: Assessment, question: str) -> list[str]:
    """Sentences of the findings of one question that are missed or stops."""
    return [each.sentence for each in asked(found, question) if each.missed]
