"""Quantities in and out: what people write becomes SI once, at the edge, and is printed once, at the edge.

How numbers are read: a point is always a decimal point. Spaces (thin and no-break ones too) group thousands,
as in 9 000. A comma is a decimal comma, as in 1,5 m, unless groups of three digits follow it. One comma
before exactly three digits groups thousands with an inch-system unit (9,000 BTU/h), because nobody who writes
those uses the decimal comma; with a metric unit it is refused, because 1,500 m is 1.5 m to half the world.
"""

from __future__ import annotations

import difflib
import math
import re
from typing import Literal

from sordino.errors import Refusal
from sordino.kinds import INCH, KINDS, R_VALUE, Kind, Unit

System = Literal["metric", "inch"]
"""The two ways lengths, flows and the rest are shown."""


class UnitError(Refusal):
    """A text that is not the quantity wanted."""


_SUMS = {("ft", "in"), ("m", "cm"), ("m", "mm"), ("lb", "oz"), ("h", "min"), ("min", "s")}
_SPACES = "\t\u00a0\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_VULGAR = {
    **{"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"},
    **{"⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"},
}
_SIGNS = str.maketrans(
    dict.fromkeys(_SPACES, " ")
    | dict.fromkeys("′’‘ʹ´`", "'")
    | dict.fromkeys("″”“ʺ", '"')
    | dict.fromkeys("−–—‐‑", "-")
    | {vulgar: f" {plain}" for vulgar, plain in _VULGAR.items()}
    | {"⁄": "/", "∕": "/", "²": "^2", "³": "^3", "⁴": "^4", "º": "°"}
    | {"℃": "°C", "℉": "°F", "㎡": "m2", "㎥": "m3"}
)
_FRACTION = re.compile(r"(?:([0-9]+)(?: ?- ?| +))?([0-9]+) ?/ ?([0-9]+)")
_NUMBER = re.compile(r"[0-9][0-9.,]*(?: [0-9]{3}(?![0-9/])(?:[.,][0-9]+)?)*|[.,][0-9]+")
_PLAIN = re.compile(r"[0-9]+|[0-9]*\.[0-9]+")
_COMMA = re.compile(r"[0-9]*,[0-9]+")
_COMMAS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_POINTS = re.compile(r"[1-9][0-9]{0,2}(?:\.[0-9]{3})+,[0-9]+")
_SPACED = re.compile(r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:[.,][0-9]+)?")
_PREFIXED = re.compile(r"(r|rsi)[- ]?([0-9.,]+)", re.IGNORECASE)
_HEAD = re.compile(r"([a-z'\"]+)\.?,? ?-? ?(?=[0-9.])", re.IGNORECASE)
_LONGEST = 60
MOST_DECIMALS, MOST_FIGURES = 4, 3
"""Decimals that a figure may be given, and figures that a pressure is worth."""


def parse(text: str, kind: str) -> float:
    """The SI value of a written quantity; a UnitError says what was read and what would do."""
    wanted = KINDS[kind]
    plain = _plain(text, wanted)
    value = _prefixed(plain, wanted) if wanted.name == "resistance" else None
    if value is None:
        sign = -1.0 if plain.startswith("-") else 1.0
        value = _measured(plain[plain[:1] in "+-" :].strip(), text, wanted, sign)
    return _sensible(value, text, wanted)


def unit_text(text: str) -> str:
    """What follows the number of a written quantity, as `mm` of `250 mm`; empty if nothing does."""
    plain = _spaced(text)
    match = _FRACTION.match(plain) or _NUMBER.match(plain)
    return plain[match.end() :].strip() if match else ""


def quoted(text: str) -> str:
    """A text as messages show it: in quotes, shortened, on one line, unprintable characters escaped."""
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    return "'" + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short) + "'"


def _spaced(text: str) -> str:
    return " ".join(text.translate(_SIGNS).replace("''", '"').split())


def _plain(text: str, wanted: Kind) -> str:
    plain = _spaced(text[: 4 * _LONGEST])
    if not plain:
        raise UnitError("the text is empty", wanted.wanted)
    if len(plain) > _LONGEST:
        raise UnitError(f"{quoted(text)} is too long for a quantity", wanted.wanted)
    return plain


def _prefixed(plain: str, wanted: Kind) -> float | None:
    match = _PREFIXED.fullmatch(plain)
    if match is None:
        return None
    inch = match[1].lower() == "r"
    return _number(match[2], plain, wanted, inch) * (R_VALUE if inch else 1.0)


def _measured(plain: str, text: str, wanted: Kind, sign: float) -> float:
    match = _FRACTION.match(plain) or _NUMBER.match(plain)
    if match is None:
        raise UnitError(f"{quoted(text)} does not start with a number", wanted.wanted)
    rest = plain[match.end() :].strip()
    if not rest:
        return sign * _unitless(match, text, wanted)
    unit = _unit(rest, wanted)
    if unit is not None:
        return sign * _count(match, text, wanted, unit.inch) * unit.factor + unit.offset
    return sign * _sum(match, rest, text, wanted)


def _sum(first: re.Match[str], rest: str, text: str, wanted: Kind) -> float:
    head = _HEAD.match(rest)
    tail = rest[head.end() :] if head else ""
    second = _FRACTION.match(tail) or _NUMBER.match(tail)
    large = _unit(head[1], wanted) if head else None
    if large is None or second is None:
        raise _unknown(rest, text, wanted)
    small = _unit(tail[second.end() :].strip(), wanted)
    if small is None or (large.name, small.name) not in _SUMS:
        raise UnitError(f"{quoted(text)} is not understood after its first unit", wanted.wanted)
    part = _count(second, text, wanted, small.inch) * small.factor
    if part >= large.factor:
        problem = f"{quoted(text)} has more than one {large.name} in its {small.name} part"
        raise UnitError(problem, wanted.wanted)
    return _count(first, text, wanted, large.inch) * large.factor + part


def _unitless(match: re.Match[str], text: str, wanted: Kind) -> float:
    if wanted.name != "fraction":
        raise UnitError(f"{quoted(text)} has no unit", f"{wanted.wanted} (units: {wanted.unit_names})")
    value = _count(match, text, wanted, inch=False)
    if value > 1.0:
        raise UnitError(f"{quoted(text)} is neither a percentage nor between 0 and 1", wanted.wanted)
    return value


def _count(match: re.Match[str], text: str, wanted: Kind, inch: bool) -> float:
    if match.re is _NUMBER:
        return _number(match[0], text, wanted, inch)
    whole, over, under = int(match[1] or 0), int(match[2]), int(match[3])
    if 0 in (over, under) or (match[1] is not None and over >= under):
        raise UnitError(f"{quoted(text)} has a fraction that makes no sense", wanted.wanted)
    return whole + over / under


def _number(token: str, text: str, wanted: Kind, inch: bool) -> float:
    plain = token.replace(" ", "")
    if " " in token and not _SPACED.fullmatch(token):
        raise UnitError(f"{quoted(text)} has spaces that do not group thousands", wanted.wanted)
    if _PLAIN.fullmatch(plain):
        return float(plain)
    if _COMMAS.fullmatch(plain) and (inch or plain.count(",") > 1 or "." in plain):
        return float(plain.replace(",", ""))
    if _COMMAS.fullmatch(plain):
        either = f"{float(plain.replace(',', '.')):g} or {plain.replace(',', '')}"
        raise UnitError(f"{quoted(text)} can be read as {either}", "write one of these, without the comma")
    if _COMMA.fullmatch(plain) or _POINTS.fullmatch(plain):
        return float(plain.replace(".", "").replace(",", "."))
    raise UnitError(f"{quoted(text)} has a number that makes no sense", wanted.wanted)


def _sensible(value: float, text: str, wanted: Kind) -> float:
    if value < wanted.low:
        problem = "is negative" if wanted.low == 0.0 else f"is too low for {wanted.article}"
        raise UnitError(f"{quoted(text)} {problem}", wanted.wanted)
    if value == 0.0 and not wanted.zero:
        raise UnitError(f"{quoted(text)} is zero", wanted.wanted)
    if not value <= wanted.high:
        most = show(wanted.high, wanted.name, "metric")
        raise UnitError(f"{quoted(text)} is too much for {wanted.article} (at most {most})", wanted.wanted)
    return value


def _key(name: str) -> str:
    """A unit's spelling without what tells no units apart: case, dots, brackets, spaces beside a stroke."""
    folded = name.casefold()
    for sign in ".·⋅*()":
        folded = folded.replace(sign, " ")
    for before, after in (("^", ""), ("°", "deg"), ("degrees ", "deg"), ("deg ", "deg")):
        folded = folded.replace(before, after)
    return " ".join(folded.split()).replace(" /", "/").replace("/ ", "/")


def _spellings(kind: Kind) -> dict[str, Unit]:
    keys = {_key(alias): unit for unit in kind.units for alias in (unit.name, *unit.aliases)}
    return {key.replace(" ", ""): unit for key, unit in keys.items()} | keys


_BY_KIND = {kind.name: _spellings(kind) for kind in KINDS.values()}


def _unit(written: str, wanted: Kind) -> Unit | None:
    return _BY_KIND[wanted.name].get(_key(written))


def _strokeless(written: str, wanted: Kind) -> Unit | None:
    """The unit that is written so but for its stroke, as m3/h for m3h, or with the whole word for hour or second."""
    plain = _key(written).replace("/", "").replace("hour", "h").replace("sec", "s")
    return {key.replace("/", ""): unit for key, unit in _BY_KIND[wanted.name].items()}.get(plain)


def _unknown(written: str, text: str, wanted: Kind) -> UnitError:
    strokeless = _strokeless(written, wanted)
    if strokeless is not None:
        problem = f"{quoted(text)} has the unknown unit {quoted(written)}"
        return UnitError(problem, f"did you mean {strokeless.name}? {wanted.wanted} (units: {wanted.unit_names})")
    head = _HEAD.match(written)
    for kind in KINDS.values():
        if _unit(written, kind) or (head and _unit(head[1], kind)):
            return UnitError(f"{quoted(text)} is {kind.article}", wanted.wanted)
    near = difflib.get_close_matches(_key(written), _BY_KIND[wanted.name], n=1, cutoff=0.6)
    hint = f"did you mean {_BY_KIND[wanted.name][near[0]].name}? " if near else ""
    problem = f"{quoted(text)} has the unknown unit {quoted(written)}"
    return UnitError(problem, f"{hint}{wanted.wanted} (units: {wanted.unit_names})")


_METRIC = {
    **{"area": ("m2", 2), "volume": ("m3", 1), "flow": ("L/s", 1), "pressure": ("Pa", 1), "temperature": ("°C", 1)},
    **{"velocity": ("m/s", 2), "mass": ("kg", 1), "surface mass": ("kg/m2", 1)},
    **{"density": ("kg/m3", 1), "flow resistivity": ("Pa.s/m2", 0), "flow resistance": ("Pa.s/m", 0)},
    **{"fraction": ("%", 0), "concentration": ("ppm", 0), "angle": ("deg", 0), "time": ("s", 0), "level": ("dB", 1)},
    **{"weighted level": ("dBA", 1), "force": ("N", 0), "frequency": ("Hz", 0), "conductance": ("W/m2K", 2)},
    **{"resistance": ("m2K/W", 2), "conductivity": ("W/mK", 3), "any pressure": ("Pa", 1)},
}
_INCH = _METRIC | {
    **{"area": ("ft2", 1), "volume": ("ft3", 0), "flow": ("cfm", 0), "pressure": ("in w.g.", 3)},
    **{"any pressure": ("in w.g.", 3), "temperature": ("°F", 0), "velocity": ("fpm", 0), "mass": ("lb", 1)},
    **{"surface mass": ("lb/ft2", 2), "density": ("lb/ft3", 2), "power": ("BTU/h", 0), "force": ("lbf", 0)},
    **{"conductance": ("BTU/h ft2 °F", 3), "resistance": ("ft2 h °F/BTU", 1)},
}


def show(value: float, kind: str, system: System) -> str:
    """A quantity as people read it in their system, rounded to what it is worth; NaN reads `not assessed`."""
    if math.isnan(value):
        return "not assessed"
    if KINDS[kind].units is KINDS["length"].units:
        return _feet_and_inches(value) if system == "inch" else _millimetres(value)
    if kind == "power" and system == "metric":
        return f"{_rounded(value, 0)} W" if value < 999.5 else f"{value / 1e3:.2f} kW"
    if kind == "time" and value >= 120.0:
        return f"{_trimmed(f'{value / 60.0:.1f}')} min"
    name, decimals = (_METRIC if system == "metric" else _INCH)[kind]
    unit = next(unit for unit in KINDS[kind].units if unit.name == name)
    most = MOST_FIGURES if "pressure" in kind else 0
    return f"{_rounded((value - unit.offset) / unit.factor, decimals, most)} {name}"


def _millimetres(value: float) -> str:
    if abs(value) < 1.0:
        return f"{_trimmed(_rounded(value * 1e3, 1))} mm"
    return f"{_trimmed(f'{value:.3f}')} m"


def _feet_and_inches(value: float) -> str:
    sixteenths = round(abs(value) / INCH * 16)
    sign = "-" if value < 0.0 and sixteenths else ""
    if sixteenths == 0 and value != 0.0:
        return f"{_trimmed(_rounded(value / INCH, 3))} in"
    feet, rest = divmod(sixteenths, 192) if sixteenths >= 384 else (0, sixteenths)
    parts = ([f"{feet} ft"] if feet else []) + ([f"{_ruled(rest)} in"] if rest or not feet else [])
    return sign + " ".join(parts)


def _ruled(sixteenths: int) -> str:
    """Inches as a tape measure has them: whole, and a fraction in lowest terms."""
    whole, over = divmod(sixteenths, 16)
    shared = math.gcd(over, 16)
    parts = ([str(whole)] if whole or not over else []) + ([f"{over // shared}/{16 // shared}"] if over else [])
    return " ".join(parts)


def _trimmed(number: str) -> str:
    return number.rstrip("0").rstrip(".") if "." in number else number


def _rounded(number: float, decimals: int, most: int = 0) -> str:
    """At least two significant figures if four decimals hold them, and no more than `most` if that is given."""
    if number == 0.0 or math.isinf(number):
        return f"{number:z.{decimals}f}"
    leading, shown_decimals = math.floor(math.log10(abs(number))), decimals
    if abs(number) < 10.0:
        shown_decimals = max(decimals, min(MOST_DECIMALS, 1 - leading))
    if most:
        number, shown_decimals = round(number, most - 1 - leading), min(shown_decimals, max(0, most - 1 - leading))
    shown = f"{number:.{shown_decimals}f}"
    return shown if float(shown) != 0.0 else f"{0.0:.{decimals}f}"
