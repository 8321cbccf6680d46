"""Field types: texts in, SI numbers and small records out."""

from __future__ import annotations

import json
import math

import pytest
from pydantic import ValidationError

from sordino.quantities import Fraction, Length, LossSpectrum, Size, Spectrum, Statement, Target, size, target
from sordino.units import UnitError


class Thing(Statement):
    """One of each."""

    length: Length = 0.3
    size: Size = Size.circle(0.2)
    share: Fraction = 0.5
    spectrum: Spectrum | None = None
    loss: LossSpectrum | None = None
    target: Target | None = None


SIZE = "a duct size is wanted, as 250 mm, 10 in, 300 x 150 mm or 12 x 6 in"
BANDS = "8 numbers are wanted, for 63 Hz to 8 kHz, or 9, from 31.5 Hz, each a level in dB"


@pytest.mark.parametrize(
    "text", ["12 x 6 in", '12" x 6"', '12"x6"', "12 in × 6 in", "1 ft x 6 in", "12X6 in", "12 by 6 in"]
)
def test_rectangular_sizes(text: str) -> None:
    found = size(text)
    assert not found.round
    assert (found.width, found.height) == pytest.approx((0.3048, 0.1524))
    assert found.area == pytest.approx(0.3048 * 0.1524)
    assert found.perimeter == pytest.approx(2 * (0.3048 + 0.1524))
    assert found.hydraulic_diameter == pytest.approx(2 * 0.3048 * 0.1524 / (0.3048 + 0.1524))
    assert found.longest == pytest.approx(0.3048)
    assert found.shown("inch") == "12 in x 6 in"


@pytest.mark.parametrize("text", ["250 mm", "ø250 mm", " 0.25 m", "25 cm"])
def test_round_sizes(text: str) -> None:
    found = size(text)
    assert found.round
    assert found.diameter == pytest.approx(0.25)
    assert found.hydraulic_diameter == pytest.approx(0.25)
    assert found.area == pytest.approx(math.pi * 0.25**2 / 4)
    assert found.perimeter == pytest.approx(math.pi * 0.25)


@pytest.mark.parametrize(
    ("value", "problem"),
    [
        (250, "250 has no unit"),
        (True, "true is not a duct size"),
        ("3 x 4 x 5 in", "'3 x 4 x 5 in' has more than two dimensions"),
        ("10 in x 250 cfm", "'10 in x 250 cfm': '250 cfm' is a flow"),
        ("40 m", "'40 m' is no size for a duct (10 mm to 3 m)"),
        ("-8 in", "'-8 in' is negative"),
    ],
)
def test_sizes_refused(value: object, problem: str) -> None:
    with pytest.raises(UnitError) as refusal:
        size(value)
    assert str(refusal.value) == f"{problem}; {SIZE}"


@pytest.mark.parametrize("value", ["300x150", "300×150", "300 by 150"])
def test_sizes_without_a_unit_are_told_where_to_write_it(value: str) -> None:
    with pytest.raises(UnitError) as refusal:
        size(value)
    assert str(refusal.value) == f"'{value}' has no unit; write it at the end, as 300 x 150 mm"


@pytest.mark.parametrize(
    ("text", "found"),
    [("NC-20", "NC 20"), ("NC 20", "NC 20"), ("nr15", "NR 15"), ("25 dBA", "25 dBA"), ("25 dB(A)", "25 dBA")],
)
def test_targets(text: str, found: str) -> None:
    assert str(target(text)) == found


@pytest.mark.parametrize(
    ("value", "problem"),
    [
        ("25 dB", "'25 dB' is a level"),
        ("25", "'25' has no unit"),
        (25, "25 is not a target"),
        ("PNC 20", "'PNC 20' is not a target"),
        ("NC-200", "'NC-200' is no target for a room"),
    ],
)
def test_targets_refused(value: object, problem: str) -> None:
    with pytest.raises(UnitError) as refusal:
        target(value)
    assert str(refusal.value) == f"{problem}; a target is wanted, as NC-20, NR-20 or 25 dBA"


def test_eight_levels_leave_the_lowest_band_open() -> None:
    found = Thing.model_validate({"spectrum": [60, 58, 55, 50, 45, 40, 35, 30.5]}).spectrum
    assert found is not None
    assert math.isnan(found[0])
    assert found[1:] == (60, 58, 55, 50, 45, 40, 35, 30.5)


@pytest.mark.parametrize(
    ("value", "problem"),
    [
        ([60] * 7, "the list has 7 values"),
        ("60", "'60' is not a list of octave-band values"),
        ([60] * 7 + [math.nan], "the value at 8 kHz is nan, outside -50 to 180 dB"),
        ([60] * 8 + [999], "the value at 8 kHz is 999, outside -50 to 180 dB"),
        ([True] * 8, "the value at 63 Hz is true, not a plain number"),
    ],
)
def test_spectra_refused(value: object, problem: str) -> None:
    with pytest.raises(ValidationError) as refusal:
        Thing.model_validate({"spectrum": value})
    assert str(refusal.value.errors()[0]["ctx"]["error"]) == f"{problem}; {BANDS}"


def test_no_loss_is_negative() -> None:
    with pytest.raises(ValidationError):
        Thing.model_validate({"loss": [-1] + [3] * 7})


def test_a_share_is_a_percentage_or_a_plain_number_up_to_one() -> None:
    assert Thing.model_validate({"share": "40 %"}).share == Thing.model_validate({"share": 0.4}).share == 0.4
    with pytest.raises(ValidationError):
        Thing.model_validate({"share": 40})


@pytest.mark.parametrize(
    "value",
    [250, 2.5, math.nan, True, [1], {}, 10**400, 10**9000],
    ids=lambda value: f"{type(value).__name__}",
)
def test_only_texts_are_quantities(value: object) -> None:
    with pytest.raises(ValidationError):
        Thing.model_validate({"length": value})


def test_statements_are_frozen_and_closed() -> None:
    with pytest.raises(ValidationError):
        Thing.model_validate({"lenght": "3 m"})
    with pytest.raises(ValidationError):
        Thing().length = 2.0  # type: ignore[misc]


def test_the_schema_tells_an_editor_what_to_write() -> None:
    fields = json.loads(json.dumps(Thing.model_json_schema()))["properties"]
    assert fields["length"]["type"] == "string"
    assert fields["length"]["examples"] == ["250 mm", "10 in"]
    assert fields["length"]["description"] == "A length with its unit: mm, cm, m, in or ft."
    assert fields["size"]["examples"][2] == "300 x 150 mm"
    assert fields["spectrum"]["anyOf"][0]["minItems"] == 8
