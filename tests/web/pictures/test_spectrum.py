"""The stacked spectrum tells the truth: heights are levels, parts are powers, what is over the target is marked."""

from __future__ import annotations

import re
from importlib import resources
from xml.etree import ElementTree

import numpy as np
import pytest

import sordino
from sordino.assess.assessment import Assessment, assess
from sordino.bands import COUNT, energy_sum
from sordino.plan.project import read
from sordino.report.spectra import target_curve
from sordino.web.pictures.spectrum import REST, bands_over, share_words, shares, sounds, spectrum

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def found() -> Assessment:
    with resources.as_file(resources.files(sordino) / "examples" / "mill-loft.toml") as path:
        return assess(read(path), fields=False)


@pytest.fixture(params=[("practice", "boost"), ("reading", "quiet"), ("neighbour", "boost")], ids="-".join)
def place(request: pytest.FixtureRequest) -> tuple[str, str]:
    return request.param


def test_parts_make_up_the_whole(found: Assessment, place: tuple[str, str]) -> None:
    heard = found.noise[place]
    parts = sounds(found, heard)
    together = energy_sum([np.nan_to_num(part.levels, nan=-300.0) for part in parts])
    known = np.isfinite(heard.levels)
    assert together[known] == pytest.approx(heard.levels[known], abs=1e-6)
    assert len({part.letter for part in parts}) == len(parts)


def test_shares_are_powers(found: Assessment, place: tuple[str, str]) -> None:
    parts = sounds(found, found.noise[place])
    for band in range(1, COUNT):
        each = shares(parts, band)
        assert sum(each) == pytest.approx(1.0)
        first, second = sorted(range(len(parts)), key=lambda index: -each[index])[:2]
        gap = parts[first].levels[band] - parts[second].levels[band]
        assert 10.0 * np.log10(each[first] / each[second]) == pytest.approx(gap)


def bars(drawn: str) -> dict[float, list[tuple[float, float]]]:
    """Parts of each bar by its left edge: upper edge and height."""
    root = ElementTree.fromstring(drawn)
    made: dict[float, list[tuple[float, float]]] = {}
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "sound":
            bar = group[0]
            made.setdefault(float(bar.get("x", "")), []).append((float(bar.get("y", "")), float(bar.get("height", ""))))
    return made


def test_bars_are_as_high_as_levels(found: Assessment) -> None:
    """Between two figures of the scale a picture is even, so a bar's top lies where its level says."""
    drawn = spectrum(found, "practice", "boost")
    texts = re.findall(r'<text x="34" y="([\d.]+)"[^>]*>(\d+)</text>', drawn)
    (y0, low), (y1, high) = ((float(y) - 4.0, float(level)) for y, level in (texts[0], texts[-1]))
    heard = found.noise["practice", "boost"]
    shown = [level for level in heard.levels if np.isfinite(level) and level > 0.0]
    tops = [min(y for y, _ in parts) for _, parts in sorted(bars(drawn).items())]
    assert len(tops) == len(shown)
    for top, level in zip(tops, shown, strict=True):
        assert low + (y0 - top) / (y0 - y1) * (high - low) == pytest.approx(level, abs=1.0)


def test_a_bar_is_split_by_power(found: Assessment) -> None:
    heard = found.noise["practice", "boost"]
    parts = sounds(found, heard)
    first = next(band for band in range(COUNT) if np.isfinite(heard.levels[band]))
    made = sorted(bars(spectrum(found, "practice", "boost")).items())[0][1]
    lowest = max(made)
    whole = sum(height for _, height in made)
    assert lowest[1] / whole == pytest.approx(shares(parts, first)[0], abs=0.02)


def test_what_is_over_its_target_is_marked_by_shape_and_figure(found: Assessment) -> None:
    drawn = spectrum(found, "practice", "boost")
    heard = found.noise["practice", "boost"]
    curve = target_curve(heard.target)
    assert curve is not None
    over = bands_over(heard.levels, curve)
    assert over
    assert drawn.count('class="over-mark"') == len(over) == len(re.findall(r'class="over">\+\d', drawn))
    assert bands_over(heard.levels - 100.0, curve) == ()


def test_the_words_name_the_loudest(found: Assessment, place: tuple[str, str]) -> None:
    heard = found.noise[place]
    parts = sounds(found, heard)
    each = shares(parts, heard.band)
    loudest = parts[int(np.argmax(each))]
    words = share_words(found, *place)
    assert loudest.label in words
    assert f"{100.0 * max(each):.0f} %" in words
    assert words in (ElementTree.fromstring(spectrum(found, *place))[1].text or "")


def test_all_others_are_told_together(found: Assessment) -> None:
    parts = sounds(found, found.noise["practice", "boost"])
    assert parts[-1].letter == REST
    assert re.fullmatch(r"\d+ others together|1 other", parts[-1].label)


def test_of_a_target_without_a_curve_no_band_is_told(found: Assessment) -> None:
    """A limit in dBA holds for all bands together."""
    assert "dBA" in str(found.noise["neighbour", "boost"].target)
    assert "band is over" not in share_words(found, "neighbour", "boost")
    assert "No band is over" in share_words(found, "practice", "quiet")
