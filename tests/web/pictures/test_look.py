"""The look keeps what it promises: contrast in light and dark, nothing fetched from elsewhere, licences at hand."""

from __future__ import annotations

import re
from importlib import resources

import pytest

import sordino

STATIC = resources.files(sordino) / "web" / "static"
STYLE = (STATIC / "look.css").read_text("utf-8")
TEXT, LARGE = 4.5, 3.0
"""Least contrast of text, and of signs and lines that mean something (WCAG 2.2, 1.4.3 and 1.4.11; from memory)."""
GROUNDS = ("paper", "sheet", "sunk")
WORDS = ("ink", "soft", "deed", "met", "likely-missed", "missed", "stop")


def variables(theme: int) -> dict[str, str]:
    """Colours by name, in light (0) or dark (1)."""
    found = {}
    for name, value in re.findall(r"--([\w-]+): ([^;]+);", STYLE):
        both = re.fullmatch(r"light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)", value)
        if both:
            found[name] = both[1 + theme]
        elif re.fullmatch("#[0-9a-f]{6}", value):
            found[name] = value
    return found


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, from memory)."""
    parts = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05), the lighter above (WCAG 2.2, from memory)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_as_published() -> None:
    """Black on white is 21:1, and #767676 on white just passes (WCAG 2.2 understanding documents, from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("word", WORDS)
def test_words_can_be_read(theme: int, ground: str, word: str) -> None:
    colours = variables(theme)
    assert contrast(colours[word], colours[ground]) >= TEXT


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_words_on_deeds_and_on_sounds_can_be_read(theme: int) -> None:
    colours = variables(theme)
    assert contrast(colours["on-deed"], colours["deed"]) >= TEXT
    assert contrast(colours["ink"], colours["deed-pale"]) >= TEXT
    for word in (*WORDS[2:], "soft"):
        assert contrast(colours[word], colours["deed-pale"]) >= TEXT, word
    for sound in "ace":
        assert contrast(colours["on-dark-sound"], colours[f"sound-{sound}"]) >= TEXT
    for sound in "bdf":
        assert contrast(colours["on-pale-sound"], colours[f"sound-{sound}"]) >= TEXT


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("line", ["edge", "gas", "warmth", "loss", "fibre", "damping"])
def test_lines_can_be_seen(theme: int, line: str) -> None:
    colours = variables(theme)
    assert contrast(colours[line], colours["sheet"]) >= LARGE


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_signs_and_edges_can_be_seen_on_every_ground(theme: int) -> None:
    """What is cut into a full sign, edges of fields and cards on all grounds, grips on boards, bars of progress."""
    colours = variables(theme)
    for full in ("met", "missed", "stop"):
        assert contrast(colours["sheet"], colours[full]) >= LARGE
    for ground in GROUNDS:
        assert contrast(colours["edge"], colours[ground]) >= LARGE, ground
    for ground in ("board", "divider", "loss-pale"):
        assert contrast(colours["deed"], colours[ground]) >= LARGE, ground
    for ground in ("board", "divider"):
        assert contrast(colours["ink"], colours[ground]) >= TEXT, ground


def test_nothing_moves_by_itself() -> None:
    for name in ("look.css", "page.css"):
        assert not re.search(r"animation|transition|@keyframes", (STATIC / name).read_text("utf-8"))


def test_colours_that_the_system_dictates_are_followed_by_all() -> None:
    (forced,) = re.findall(r"@media \(forced-colors: active\) \{(.*?)\n\}", STYLE, re.DOTALL)
    mapped = set(re.findall(r"--([\w-]+):", forced))
    assert mapped >= {*GROUNDS, *WORDS, "edge", "on-deed", "gas", "warmth", "loss", "fibre"}
    assert not re.search("#[0-9a-f]{3}", forced)


def test_light_and_dark_name_the_same_colours() -> None:
    assert set(variables(0)) == set(variables(1))
    used = set(re.findall(r"var\(--([\w-]+)\)", STYLE))
    assert used <= {*variables(0), "lettering", "round", "brink", "cover", "shade"}


def test_focus_is_shown_and_nowhere_taken_away_without_another_sign() -> None:
    assert re.search(r":focus-visible \{ outline: 3px", STYLE)
    for selector in re.findall(r"([^{}]+)\{[^{}]*outline: none", STYLE):
        name = selector.strip().split()[-1]
        assert re.search(rf"{re.escape(name)}:focus-visible [^{{]*\{{[^}}]*stroke-width: [34]", STYLE), name


OWN = sorted(each.name for each in STATIC.iterdir() if re.fullmatch(r"[a-z0-9]+\.(css|js)", each.name))


@pytest.mark.parametrize("name", OWN)
def test_nothing_is_fetched_from_elsewhere(name: str) -> None:
    text = (STATIC / name).read_text("utf-8")
    assert "//" not in re.sub(r"(^|\s)//\s.*$", "", text, flags=re.MULTILINE)
    assert "@import" not in text
    for place in re.findall(r'url\("([^"]*)"\)', text) + re.findall(r'from "\./([^"]*)"', text):
        assert (STATIC / place).is_file()


@pytest.mark.parametrize(
    ("made", "licence", "words"),
    [
        ("three.min.js", "three.LICENSE.txt", "MIT License"),
        ("htmx.min.js", "htmx.LICENSE.txt", "Zero-Clause BSD"),
        ("lettering.woff2", "lettering.LICENSE.txt", "SIL Open Font License"),
    ],
)
def test_what_others_made_lies_beside_its_licence(made: str, licence: str, words: str) -> None:
    assert (STATIC / made).read_bytes()
    assert words.lower() in (STATIC / licence).read_text("utf-8").lower()
