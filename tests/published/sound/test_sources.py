"""Loud sources, surfaces and boards against what was published."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import energy_sum
from sordino.physics.sound.sources import absorption, board, loudest
from sordino.physics.sound.weighting import a_level

SPEECH = "ANSI S3.5-1997"


@pytest.mark.parametrize(("effort", "total"), [("normal", 62.35), ("raised", 68.34), ("loud", 74.85), ("shout", 82.30)])
def test_speech_at_one_metre(check: Check, effort: str, total: float) -> None:
    """Overall level as the standard prints it."""
    ours = energy_sum(loudest(f"speech {effort}").levels[1:])
    check(f"speech {effort}, overall dB", total, ours, source=SPEECH, mark="second-hand", within=0.6)


@pytest.mark.parametrize(("effort", "level"), [("normal", 59.5), ("loud", 73.7), ("shout", 82.3)])
def test_speech_weighted(check: Check, effort: str, level: float) -> None:
    """A level from the standard's spectrum levels and octave bandwidths."""
    ours = a_level(loudest(f"speech {effort}").levels)
    check(f"speech {effort}, dB(A)", level, ours, source=SPEECH, mark="derived", within=0.15)


def test_an_amplified_band(check: Check) -> None:
    """About 121 dB(A)."""
    ours = a_level(loudest("amplified band").levels)
    check("amplified band, dB(A)", 121, ours, source="Egan", mark="memory", within=1.0)


def test_a_large_band_rehearsing(check: Check) -> None:
    """About 95 dB in the room."""
    ours = energy_sum(loudest("large band rehearsal").levels[1:])
    check("band rehearsal, dB", 95, ours, source="UFC 4-171-04AN", mark="read", within=1.5)


def test_absorption(check: Check) -> None:
    """Plasterboard on studs with wool and heavy curtain, 125 Hz to 4 kHz."""
    for surface, printed in (
        ("plasterboard on studs with wool", [0.15, 0.10, 0.06, 0.04, 0.04, 0.05]),
        ("heavy curtain off the wall", [0.36, 0.26, 0.51, 0.45, 0.62, 0.76]),
    ):
        ours = absorption(surface)[2:8]
        check(f"absorption of {surface}", printed, ours, source="Vorländer 2008", mark="second-hand", within=0)


@pytest.mark.parametrize("name", ["gypsum board", "plywood", "MDF", "OSB", "steel sheet"])
def test_a_boards_coincidence_follows_from_its_stiffness(check: Check, name: str) -> None:
    """Critical frequency of a 12 mm sheet as the table has it, and from modulus and density: c^2/(2 pi) sqrt(m/B)."""
    sheet = board(name)
    ours = sheet.critical_frequency(0.012)
    stiffness = sheet.modulus * 0.012**3 / (12.0 * (1.0 - 0.3**2))
    by_modulus = 343.2**2 / (2.0 * np.pi) * np.sqrt(sheet.surface_mass(0.012) / stiffness)
    printed = {"gypsum board": 35.5, "plywood": 20.0, "MDF": 29.0, "OSB": 24.0, "steel sheet": 12.2}[name]
    check(f"f_c h of {name}, Hz m", printed, ours * 0.012, source="trade data", mark="memory", relative=0.04)
    assert by_modulus * 0.012 == pytest.approx(printed, rel=0.06)
