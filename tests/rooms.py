"""One room with a fan, a cooler or neither, as project files: for the tests of heat, fresh air and moisture."""

from __future__ import annotations

from small import written
from sordino.plan.statement import Plan

ROOM = """
[room.booth]
length = "2 m"
width = "1 m"
height = "2 m"
leakage = "0.1 m3/h"
people = [{ count = 1, activity = "seated" }]
"""

AROUND = """
[space.office]
is = "room"

[space.loft]
is = "attic"

[space.outside]
is = "outside"
"""

WEATHER = """
[site]
altitude = "0 m"
summer_day = { temperature = "35 °C", humidity = "40 %" }
humid_night = { temperature = "29 °C", humidity = "85 %" }
winter = { temperature = "-10 °C", humidity = "80 %" }
"""

COOLER = """
[mover.unit]
is = "ducted unit"
in = "loft"
curve = [["0 L/s", "60 Pa"], ["60 L/s", "30 Pa"], ["100 L/s", "0 Pa"]]
sound = { rated = "30 dBA" }

[run.cool]
from = "unit.supply"
to = "booth"
in = "loft"
size = "160 mm"
parts = [{ is = "metal duct", length = "2 m" }]

[run.back]
from = "booth"
to = "unit.return"
in = "loft"
size = "160 mm"
parts = [{ is = "metal duct", length = "2 m" }]
"""

FAN = """
[mover.fan]
is = "inline fan"
in = "office"
curve = [["0 L/s", "60 Pa"], ["20 L/s", "0 Pa"]]
sound = { rated = "30 dBA" }

[run.draw]
from = "outside"
to = "fan.inlet"
size = "100 mm"

[run.blow]
from = "fan.outlet"
to = "booth"
size = "100 mm"

[run.relief]
from = "booth"
to = "outside"
size = "100 mm"
"""

RECOVERY = """
[mover.fresh]
is = "heat-recovery unit"
in = "loft"
curve = [["0 L/s", "100 Pa"], ["30 L/s", "0 Pa"]]
sound = { rated = "30 dBA" }

[run.intake]
from = "outside"
to = "fresh.outdoor"
size = "125 mm"

[run.fresh-in]
from = "fresh.supply"
to = "booth"
size = "125 mm"

[run.used]
from = "booth"
to = "fresh.extract"
size = "125 mm"

[run.out]
from = "fresh.exhaust"
to = "outside"
size = "125 mm"
"""


def room(*more: str, people: str = "", head: str = "", weather: str = WEATHER) -> Plan:
    """The booth with machines; `people` are lines for the room instead of its one person, `head` stands first."""
    booth = ROOM if not people else ROOM[: ROOM.index("people")] + people + "\n"
    return written("\n".join([head, weather, booth, AROUND, *more]))
