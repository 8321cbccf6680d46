"""The kinds of quantity Sordino knows, with the units people write them in and the values that make sense.

Factors are exact by definition or those of NIST SP 811 (2008), appendix B: the conventional inch of water
(249.0889 Pa), the International Table BTU, the avoirdupois pound. The bounds are judgement: what no
small room has.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """One unit of a kind: SI value = number * factor + offset."""

    name: str
    factor: float
    aliases: tuple[str, ...] = ()
    offset: float = 0.0
    inch: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """What a quantity measures: its units, its examples and the values that make sense."""

    name: str
    article: str
    units: tuple[Unit, ...]
    examples: tuple[str, ...]
    low: float = 0.0
    high: float = math.inf
    zero: bool = True

    @property
    def wanted(self) -> str:
        """The cure for every wrong text of this kind, as `a length is wanted, as 250 mm or 10 in`."""
        return f"{self.article} is wanted, as {' or '.join(self.examples)}"

    @property
    def unit_names(self) -> str:
        """The names of the units that would do, as `mm, cm, m, in or ft`."""
        names = [unit.name for unit in self.units]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237
BTU_PER_HOUR = 1055.05585262 / 3600.0
INCH_OF_WATER = 249.0889
R_VALUE = FOOT**2 * (5.0 / 9.0) / BTU_PER_HOUR


def _si(name: str, factor: float, *aliases: str, offset: float = 0.0) -> Unit:
    return Unit(name=name, factor=factor, aliases=aliases, offset=offset)


def _us(name: str, factor: float, *aliases: str, offset: float = 0.0) -> Unit:
    return Unit(name=name, factor=factor, aliases=aliases, offset=offset, inch=True)


_LENGTHS = (
    _si("mm", 1e-3, "millimetre", "millimetres", "millimeter", "millimeters"),
    _si("cm", 1e-2, "centimetre", "centimetres", "centimeter", "centimeters"),
    _si("m", 1.0, "metre", "metres", "meter", "meters"),
    _us("in", INCH, '"', "inch", "inches"),
    _us("ft", FOOT, "'", "foot", "feet"),
)
_PRESSURES = (
    _si("Pa", 1.0, "pascal", "pascals"),
    _si("kPa", 1e3),
    _us("in w.g.", INCH_OF_WATER, "in wg", "in w c", "in wc", "in h2o", '" w g', '" wg', '" w c', '" wc'),
    _si("mm w.g.", 9.80665, "mm wg", "mm w c", "mm wc", "mm h2o"),
)
_DECIBELS = (_si("dB", 1.0, "decibel", "decibels"),)

# fmt: off
_TABLE = (
    Kind(
        name="length", article="a length", units=_LENGTHS, examples=("250 mm", "10 in"), zero=False, high=1e3,
    ),
    Kind(
        name="length from zero", article="a length", units=_LENGTHS, examples=("0 m", "250 mm"), high=1e3,
    ),
    Kind(
        name="any length", article="a length", units=_LENGTHS, examples=("120 m", "400 ft"),
        low=-1e4, high=1e4,
    ),
    Kind(
        name="area", article="an area", examples=("4.5 m2", "48 ft2"), zero=False, high=1e5,
        units=(
            _si("m2", 1.0, "sq m", "m^2"), _si("cm2", 1e-4, "sq cm", "cm^2"),
            _si("mm2", 1e-6, "sq mm", "mm^2"),
            _us("ft2", FOOT**2, "sq ft", "sf", "ft^2"), _us("in2", INCH**2, "sq in", "in^2"),
        ),
    ),
    Kind(
        name="volume", article="a volume", examples=("30 m3", "1050 ft3"), zero=False, high=1e6,
        units=(
            _si("m3", 1.0, "cu m", "m^3"), _si("L", 1e-3, "litre", "litres", "liter", "liters"),
            _us("ft3", FOOT**3, "cu ft", "cf", "ft^3"),
        ),
    ),
    Kind(
        name="flow", article="a flow", examples=("250 cfm", "118 L/s"), high=100.0,
        units=(
            _us("cfm", FOOT**3 / 60.0, "ft3/min", "ft^3/min", "cu ft/min"),
            _si("L/s", 1e-3, "lps", "litres/s", "liters/s", "dm3/s"),
            _si("m3/h", 1.0 / 3600.0, "m^3/h", "cmh", "m3/hr", "m^3/hr", "cu m/h"),
            _si("m3/s", 1.0, "m^3/s"), _si("m3/min", 1.0 / 60.0, "m^3/min"),
            _si("L/min", 1e-3 / 60.0, "lpm"), _si("L/h", 1e-3 / 3600.0),
        ),
    ),
    Kind(
        name="pressure", article="a pressure", units=_PRESSURES, examples=("25 Pa", "0.1 in w.g."), high=1e4,
    ),
    Kind(
        name="any pressure", article="a pressure", units=_PRESSURES, examples=("-5 Pa", "0.1 in w.g."),
        low=-1e4, high=1e4,
    ),
    Kind(
        name="power", article="a power", examples=("2.6 kW", "9000 BTU/h"), high=1e6,
        units=(
            _si("W", 1.0, "watt", "watts"), _si("kW", 1e3, "kilowatt", "kilowatts"),
            _us("BTU/h", BTU_PER_HOUR, "btu/hr", "btuh", "btu per hour"), _us("MBH", 1e3 * BTU_PER_HOUR),
            _us("ton", 12e3 * BTU_PER_HOUR, "tons"), _us("hp", 745.69987),
        ),
    ),
    Kind(
        name="temperature", article="a temperature", examples=("35 °C", "95 °F"), low=-80.0, high=500.0,
        units=(
            _si("°C", 1.0, "c", "celsius"),
            _us("°F", 5.0 / 9.0, "f", "fahrenheit", offset=-160.0 / 9.0),
            _si("K", 1.0, "kelvin", offset=-273.15),
        ),
    ),
    Kind(
        name="velocity", article="a velocity", examples=("2.5 m/s", "500 fpm"), high=200.0,
        units=(
            _si("m/s", 1.0), _us("fpm", FOOT / 60.0, "ft/min"), _us("ft/s", FOOT, "fps"),
            _si("km/h", 1.0 / 3.6, "kph"), _us("mph", 0.44704),
        ),
    ),
    Kind(
        name="mass", article="a mass", examples=("12 kg", "26 lb"), high=1e5,
        units=(
            _si("kg", 1.0, "kilogram", "kilograms"), _si("g", 1e-3, "gram", "grams"), _si("t", 1e3, "tonne"),
            _us("lb", POUND, "lbs", "pound", "pounds"), _us("oz", POUND / 16.0, "ounce", "ounces"),
        ),
    ),
    Kind(
        name="surface mass", article="a mass per area", examples=("12 kg/m2", "2.5 lb/ft2"), high=1e4,
        units=(
            _si("kg/m2", 1.0, "kg/m^2"), _si("g/m2", 1e-3, "g/m^2"),
            _us("lb/ft2", POUND / FOOT**2, "psf", "lb/sq ft", "lbs/ft2", "lb/ft^2"),
        ),
    ),
    Kind(
        name="density", article="a density", examples=("48 kg/m3", "3 lb/ft3"), zero=False, high=25e3,
        units=(
            _si("kg/m3", 1.0, "kg/m^3"), _us("lb/ft3", POUND / FOOT**3, "pcf", "lb/cu ft", "lbs/ft3"),
        ),
    ),
    Kind(
        name="flow resistivity", article="a flow resistivity", examples=("12 000 Pa.s/m2", "12 kPa.s/m2"),
        zero=False, high=1e7,
        units=(
            _si("Pa.s/m2", 1.0, "pa s/m^2", "rayl/m", "rayls/m", "n s/m4"), _si("kPa.s/m2", 1e3, "kpa s/m^2"),
        ),
    ),
    Kind(
        name="flow resistance", article="a flow resistance", examples=("300 Pa.s/m",), high=1e6,
        units=(_si("Pa.s/m", 1.0, "rayl", "rayls", "n s/m3"),),
    ),
    Kind(
        name="fraction", article="a share", examples=("40 %", "0.4"), high=1.0,
        units=(_si("%", 0.01, "percent", "per cent", "pct"),),
    ),
    Kind(
        name="concentration", article="a concentration", examples=("1000 ppm",), high=1e6,
        units=(_si("ppm", 1.0),),
    ),
    Kind(
        name="angle", article="an angle", examples=("45 deg", "45°"), low=-2.0 * math.pi, high=2.0 * math.pi,
        units=(_si("deg", math.pi / 180.0, "°", "degree", "degrees"), _si("rad", 1.0, "radian", "radians")),
    ),
    Kind(
        name="time", article="a time", examples=("90 min", "2 h"), high=1e9,
        units=(
            _si("s", 1.0, "sec", "second", "seconds"), _si("min", 60.0, "minute", "minutes"),
            _si("h", 3600.0, "hr", "hour", "hours"), _si("d", 86400.0, "day", "days"), _si("ms", 1e-3),
        ),
    ),
    Kind(name="level", article="a level", units=_DECIBELS, examples=("45 dB",), low=-100.0, high=200.0),
    Kind(
        name="weighted level", article="an A-weighted level", examples=("32 dBA",), low=-50.0, high=200.0,
        units=(_si("dBA", 1.0, "db a"),),
    ),
    Kind(
        name="force", article="a force", examples=("133 N", "30 lbf"), high=1e7,
        units=(_si("N", 1.0, "newton", "newtons"), _si("kN", 1e3), _us("lbf", POUND * 9.80665, "lb", "lbs")),
    ),
    Kind(
        name="frequency", article="a frequency", examples=("250 Hz",), zero=False, high=1e6,
        units=(_si("Hz", 1.0, "hertz"), _si("kHz", 1e3)),
    ),
    Kind(
        name="conductance", article="a conductance per area", examples=("0.35 W/m2K",), zero=False, high=1e5,
        units=(
            _si("W/m2K", 1.0, "w/m2 k", "w/m^2 k", "w/k m2"),
            _us("BTU/h ft2 °F", 1.0 / R_VALUE, "btu/h ft2 f", "btu/hr ft2 f"),
        ),
    ),
    Kind(
        name="resistance", article="a thermal resistance", examples=("1.4 m2K/W", "R-8"), high=1e3,
        units=(
            _si("m2K/W", 1.0, "m2 k/w", "m^2 k/w", "k m2/w"),
            _us("ft2 h °F/BTU", R_VALUE, "h ft2 °f/btu", "ft2 °f h/btu", "hr ft2 f/btu", "h ft2 f/btu"),
        ),
    ),
    Kind(
        name="conductivity", article="a thermal conductivity", examples=("0.035 W/mK",), zero=False, high=1e3,
        units=(_si("W/mK", 1.0, "w/m k"),),
    ),
)
# fmt: on

KINDS: dict[str, Kind] = {kind.name: kind for kind in _TABLE}
"""Every kind of quantity by its name."""
