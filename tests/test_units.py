"""Quantities as people write them. Factors: NIST SP 811 (2008), appendix B.8, from memory."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.kinds import KINDS
from sordino.units import System, UnitError, parse, show

READ = [
    ("10 in", "length", 0.254),
    ('10"', "length", 0.254),
    ("11 3/8 in", "length", 11.375 * 0.0254),
    ('11-3/8"', "length", 11.375 * 0.0254),
    ("11–3/8 in.", "length", 11.375 * 0.0254),
    ("2 ft 6 in", "length", 0.762),
    ("2ft 6in", "length", 0.762),
    ("5' 3 1/2\"", "length", 63.5 * 0.0254),
    ("5'-3 1/2\"", "length", 63.5 * 0.0254),
    ("5′ 3½″", "length", 63.5 * 0.0254),
    ("5’ 3”", "length", 63 * 0.0254),
    ("5' 3''", "length", 63 * 0.0254),
    ("200 mm", "length", 0.2),
    ("1,5 m", "length", 1.5),
    ("0,250 m", "length", 0.25),
    ("1.234,5 mm", "length", 1.2345),
    ("1,234.5 mm", "length", 1.2345),
    ("9\u202f000 mm", "length", 9.0),
    ("9\u2009000\u00a0mm", "length", 9.0),
    ("3/4 in", "length", 0.01905),
    ("¾ in", "length", 0.01905),
    (".5 in", "length", 0.0127),
    ("1 m 20 cm", "length", 1.2),
    ("-20 m", "any length", -20.0),
    ("-5 ft 3 in", "any length", -63 * 0.0254),
    ("250 cfm", "flow", 0.1179869),
    ("118 L/s", "flow", 0.118),
    ("425 m³/h", "flow", 425 / 3600),
    ("425 m3 / h", "flow", 425 / 3600),
    ("0.1 in w.g.", "pressure", 24.90889),
    ("0.1 in.wg", "pressure", 24.90889),
    ("0.1 inWG", "pressure", 24.90889),
    ("0.1 in. w.c.", "pressure", 24.90889),
    ('0.1" w.g.', "pressure", 24.90889),
    ("0.1 in H2O", "pressure", 24.90889),
    ("25 Pa", "pressure", 25.0),
    ("−5 Pa", "any pressure", -5.0),
    ("9 000 BTU/h", "power", 9000 * 0.2930711),
    ("9,000 BTU/h", "power", 9000 * 0.2930711),
    ("2.6 kW", "power", 2600.0),
    ("1 ton", "power", 3516.853),
    ("95 °F", "temperature", 35.0),
    ("95 F", "temperature", 35.0),
    ("70 degF", "temperature", 21.11111),
    ("95 degrees F", "temperature", 35.0),
    ("35 C", "temperature", 35.0),
    ("35 ℃", "temperature", 35.0),
    ("-10 °C", "temperature", -10.0),
    ("300 K", "temperature", 26.85),
    ("5 lb/ft2", "surface mass", 24.41214),
    ("3 lb/ft³", "density", 48.05539),
    ("600 fpm", "velocity", 3.048),
    ("3 m/s", "velocity", 3.0),
    ("32 dBA", "weighted level", 32.0),
    ("32 dB(A)", "weighted level", 32.0),
    ("5 lb", "mass", 2.267962),
    ("5 lb 4 oz", "mass", 2.38136),
    ("30 lbf", "force", 133.4466),
    ("12 000 Pa·s/m²", "flow resistivity", 12000.0),
    ("40 %", "fraction", 0.4),
    ("0.4", "fraction", 0.4),
    ("45°", "angle", math.pi / 4),
    ("1 h 30 min", "time", 5400.0),
    ("R-8", "resistance", 8 * 0.1761102),
    ("R 13", "resistance", 13 * 0.1761102),
    ("RSI 1.4", "resistance", 1.4),
    ("1.4 m²·K/W", "resistance", 1.4),
    ("0.35 W/(m² K)", "conductance", 0.35),
    ("48 sq. ft.", "area", 48 * 0.09290304),
]

LENGTH = "a length is wanted, as 250 mm or 10 in"
UNITS = f"{LENGTH} (units: mm, cm, m, in or ft)"
REFUSED = [
    ("250 cfm", "length", f"'250 cfm' is a flow; {LENGTH}"),
    ("10 in", "flow", "'10 in' is a length; a flow is wanted, as 250 cfm or 118 L/s"),
    ("5 ft 3 in", "flow", "'5 ft 3 in' is a length; a flow is wanted, as 250 cfm or 118 L/s"),
    ("32 dB", "weighted level", "'32 dB' is a level; an A-weighted level is wanted, as 32 dBA"),
    ("250", "length", f"'250' has no unit; {UNITS}"),
    ("250 inhc", "length", f"'250 inhc' has the unknown unit 'inhc'; did you mean in? {UNITS}"),
    ("5 m m", "length", f"'5 m m' has the unknown unit 'm m'; did you mean mm? {UNITS}"),
    ("", "length", f"the text is empty; {LENGTH}"),
    (" \u2009", "length", f"the text is empty; {LENGTH}"),
    ("nan m", "length", f"'nan m' does not start with a number; {LENGTH}"),
    ("inf", "length", f"'inf' does not start with a number; {LENGTH}"),
    ("-3 mm", "length", f"'-3 mm' is negative; {LENGTH}"),
    ("0 mm", "length", f"'0 mm' is zero; {LENGTH}"),
    ("5000 m", "length", f"'5000 m' is too much for a length (at most 1000 m); {LENGTH}"),
    ("1,500 m", "length", "'1,500 m' can be read as 1.5 or 1500; write one of these, without the comma"),
    ("1e400 m", "length", f"'1e400 m' has the unknown unit 'e400 m'; {UNITS}"),
    ("9**9**9 m", "length", f"'9**9**9 m' has the unknown unit '**9**9 m'; {UNITS}"),
    ("3/0 in", "length", f"'3/0 in' has a fraction that makes no sense; {LENGTH}"),
    ("11 8/3 in", "length", f"'11 8/3 in' has a fraction that makes no sense; {LENGTH}"),
    ("5 ft 14 in", "length", f"'5 ft 14 in' has more than one ft in its in part; {LENGTH}"),
    ("5 ft 3 lb", "length", f"'5 ft 3 lb' is not understood after its first unit; {LENGTH}"),
    ("1.234.567 mm", "length", f"'1.234.567 mm' has a number that makes no sense; {LENGTH}"),
    ("1234 567 mm", "length", f"'1234 567 mm' has spaces that do not group thousands; {LENGTH}"),
    ("40", "fraction", "'40' is neither a percentage nor between 0 and 1; a share is wanted, as 40 % or 0.4"),
    (
        "140 %",
        "fraction",
        "'140 %' is too much for a share (at most 100 %); a share is wanted, as 40 % or 0.4",
    ),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_forms_people_write(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(("text", "kind", "message"), REFUSED)
def test_what_is_refused_and_why(text: str, kind: str, message: str) -> None:
    with pytest.raises(UnitError) as refusal:
        parse(text, kind)
    assert str(refusal.value) == message


@pytest.mark.parametrize("kind", KINDS)
def test_every_alias_and_example_of_a_kind_is_read(kind: str) -> None:
    for unit in KINDS[kind].units:
        number = 300.0 if unit.offset < -200.0 else min(KINDS[kind].high / unit.factor, 0.5)
        for alias in (unit.name, *unit.aliases):
            value = parse(f"{number:.6f} {alias}", kind)
            assert value == pytest.approx(number * unit.factor + unit.offset, rel=1e-3)
    for example in KINDS[kind].examples:
        assert math.isfinite(parse(example, kind))


def test_no_spelling_means_two_units_of_one_kind() -> None:
    for kind in KINDS.values():
        spellings = [alias for unit in kind.units for alias in (unit.name, *unit.aliases)]
        assert len(set(map(str.casefold, spellings))) == len(spellings)


SPANS = {
    **{"length": (0.01, 900), "any length": (-900, 900), "area": (0.1, 500), "volume": (1, 500)},
    **{"flow": (0.01, 5), "pressure": (5, 2000), "power": (50, 5e4), "temperature": (-40, 60)},
    **{
        "velocity": (0.3, 30),
        "mass": (1, 500),
        "density": (5, 3000),
        "fraction": (0.05, 1),
        "force": (10, 900),
    },
    **{"resistance": (0.2, 9), "time": (10, 9e4), "surface mass": (1, 100)},
}


@given(st.data(), st.sampled_from(sorted(SPANS)), st.sampled_from(["metric", "inch"]))
def test_what_is_shown_reads_back(data: st.DataObject, kind: str, system: System) -> None:
    value = data.draw(st.floats(*SPANS[kind]))
    assert parse(show(value, kind, system), kind) == pytest.approx(value, rel=0.06, abs=0.5 if "temp" in kind else 1e-3)


@pytest.mark.parametrize(
    ("value", "kind", "metric", "inch"),
    [
        (0.254, "length", "254 mm", "10 in"),
        (0.288925, "length", "288.9 mm", "11 3/8 in"),
        (0.762, "length", "762 mm", "2 ft 6 in"),
        (1.6129, "length", "1.613 m", "5 ft 3 1/2 in"),
        (0.0002, "length", "0.2 mm", "0.0079 in"),
        (0.118, "flow", "118.0 L/s", "250 cfm"),
        (24.9089, "pressure", "24.9 Pa", "0.100 in w.g."),
        (2637.64, "power", "2.64 kW", "9000 BTU/h"),
        (35.0, "temperature", "35.0 °C", "95 °F"),
        (-0.04, "temperature", "-0.040 °C", "32 °F"),
        (3.048, "velocity", "3.05 m/s", "600 fpm"),
        (math.nan, "flow", "not assessed", "not assessed"),
        (1e-12, "force", "0 N", "0 lbf"),
        (-1e-12, "velocity", "0.00 m/s", "0 fpm"),
        (4398.9, "pressure", "4400 Pa", "17.7 in w.g."),
        (math.inf, "flow", "inf L/s", "inf cfm"),
    ],
)
def test_shown(value: float, kind: str, metric: str, inch: str) -> None:
    assert (show(value, kind, "metric"), show(value, kind, "inch")) == (metric, inch)


@given(st.text(alphabet="0123456789 ./,'\"-minftxRe%°½\u202f²*", max_size=40), st.sampled_from(sorted(KINDS)))
def test_any_text_gives_a_sensible_number_or_a_refusal(text: str, kind: str) -> None:
    try:
        value = parse(text, kind)
    except UnitError:
        return
    assert KINDS[kind].low <= value <= KINDS[kind].high


@pytest.mark.parametrize("text", ["9" * 100_000, "1 " * 100_000, "1/" * 100_000, " " * 100_000 + "1 m", "1," * 50_000])
def test_long_texts_are_refused_at_once(text: str) -> None:
    start = time.perf_counter()
    with pytest.raises(UnitError):
        parse(text, "length")
    assert time.perf_counter() - start < 0.1
