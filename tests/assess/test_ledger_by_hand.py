"""One schedule checked line by line against a path worked by hand."""

from __future__ import annotations

import numpy as np

from small import written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.contribution import Contribution

PLAN = """
[space.loft]
is = "attic"

[room.hall]
length = "4.4 m"
width = "3.4 m"
height = "2.5 m"
listener = "1.8 m"

[room.hall.surfaces]
floor = "smooth concrete"
walls = "smooth concrete"
ceiling = "smooth concrete"
patches = [{ surface = "mineral wool 50 mm 64 kg/m3", area = "8 m2" }]

[mover.fan]
is = "inline fan"
in = "loft"
curve = [["0 L/s", "150 Pa"], ["60 L/s", "120 Pa"], ["120 L/s", "0 Pa"]]
sound = { outlet = [70, 70, 70, 70, 70, 70, 70, 70], casing = [0, 0, 0, 0, 0, 0, 0, 0] }

[run.draw]
from = "hall"
to = "fan.inlet"
size = "160 mm"

[run.way]
from = "fan.outlet"
to = "hall"
size = "400 x 300 mm"
parts = [
  { is = "metal duct", length = "2 m", lining = "1 in" },
  { is = "bend", shape = "mitred", lined = true },
]
"""


def way(assessed: Assessment) -> Contribution:
    """Fan noise by the run `way`."""
    heard = assessed.noise["hall", "normal"].heard.contributions
    return next(sound for sound in heard if sound.cause == "fan" and sound.via == "way")


def test_a_schedule_above_cut_on_is_the_sum_of_its_handbook_lines() -> None:
    """A fan of 70 dB, 2 m of duct 400 x 300 mm lined 1 in, a lined mitred bend, a flush bare end, a hard room.

    Cut-on is 343.2/(2 x 0.4) = 429 Hz, so from 1 kHz the energy fold holds. By hand, at 1, 2 and 4 kHz:

    lined duct   P/A = 1.4/0.12 = 11.667 1/m = 3.556 1/ft; lining B (P/A)^C with B = 1.770 1.392 1.518 and
                 C = 0.695 0.802 0.451: 4.275 3.850 2.690 dB/ft; bare metal 0.02 (P/A)^0.8 = 0.055 dB/ft;
                 together times 6.562 ft: 28.41 25.63 18.01 dB
    bend         f w = 15.7 31.5 63 kHz in, lined mitre: 10 10 10 dB
    open end     D = sqrt(4 x 0.12/pi) = 0.391 m; 10 lg[1 + (0.7 x 343.2/(pi f D))^2] = 0.16 0.04 0.01 dB
    room         A = (68.92 - 8) x (0.02 0.02 0.05) + 8 x 1 = 9.218 9.218 11.046 m2;
                 10 lg[2/(4 pi 1.8^2) + 4/A] = 10 lg(0.0491 + 0.4339 0.4339 0.3621) = -3.16 -3.16 -3.86 dB
    at the ear   70 - 28.41 - 10 - 0.16 - 3.16 = 28.27; 70 - 25.63 - 10 - 0.04 - 3.16 = 31.17;
                 70 - 18.01 - 10 - 0.01 - 3.86 = 38.12 dB
    """
    sound = way(assess(written(PLAN)))
    rows = {row.station: row for row in sound.rows}
    bands = slice(5, 8)
    for station, by_hand in {
        "metal duct": [28.41, 25.63, 18.01],
        "bend": [10.0, 10.0, 10.0],
        "end reflection": [0.16, 0.04, 0.01],
        "room effect": [3.16, 3.16, 3.86],
    }.items():
        ours = rows[station].attenuation
        assert ours is not None
        np.testing.assert_allclose(ours[bands], by_hand, atol=0.03, err_msg=station)
    np.testing.assert_allclose(sound.levels[bands], [28.27, 31.17, 38.12], atol=0.05)


def test_a_schedule_below_cut_on_holds_the_closed_form() -> None:
    """A bare 6 m duct of 160 mm from a matched fan to a flush end: what arrives is 1 - |R|^2 less the duct's loss.

    The end passes 1/[1 + (0.7 c/(pi f D))^2]; at 125.9 Hz 0.7 x 343.2/(pi x 125.9 x 0.16) = 3.797, squared 14.42.
    Averaged over the octave that is ln[(2 + 14.42)/(0.5 + 14.42)]/(2 ln 2) = 0.0691, -11.60 dB. The duct loses 0.03
    dB/ft x 19.69 ft = 0.59 dB on the way out: -12.19 dB between the matched fan and the room.
    """
    text = PLAN.replace("400 x 300 mm", "160 mm").replace('{ is = "metal duct", length = "2 m", lining = "1 in" },', "")
    text = text.replace('{ is = "bend", shape = "mitred", lined = true },', '{ is = "metal duct", length = "6 m" },')
    assessed = assess(written(text))
    carried = next(c for c in assessed.acoustics.carriages if c.route.name() == "way" and c.route.start.place == "fan")
    assert abs(carried.total[2] + 12.19) < 0.05
    assert abs(carried.ending[2]) < 1e-9
