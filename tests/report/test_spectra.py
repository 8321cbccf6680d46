"""The sounds that are shown by name are those that make up most of some band."""

from __future__ import annotations

import numpy as np

from sordino.bands import Bands, energy_sum
from sordino.report.spectra import TOP, shown_sounds

UNASSESSED = [np.nan]


def sound(*levels: float) -> Bands:
    return np.array([*UNASSESSED, *levels])


def test_a_sound_that_rules_the_lowest_octave_is_not_hidden_among_others() -> None:
    groups = {f"hiss {n}": sound(10, 15, 25 - n, 20, 20, 15, 10, 5) for n in range(8)} | {
        "rumble": sound(49, 20, 0, -5, -5, -5, -5, -5)
    }
    shown = shown_sounds(groups, energy_sum(list(groups.values())), 3)
    assert len(shown) == TOP
    assert shown[0] == "hiss 0"
    assert shown[-1] == "rumble"


def test_the_loudest_where_it_matters_is_always_shown_and_unheard_bands_count_for_nothing() -> None:
    lows = {f"octave {band}": sound(*(50 if band == at else 0 for at in range(8))) for band in range(6)}
    groups = {**lows, "governs": sound(0, 0, 0, 0, 0, 0, 48, 0), "unheard": sound(*[-30] * 7, -5)}
    whole = energy_sum(list(groups.values()))
    shown = shown_sounds(groups, whole, 7)
    assert shown[0] == "governs"
    assert "unheard" not in shown


def test_a_few_sounds_are_all_shown_in_the_order_of_the_band_that_governs() -> None:
    groups = {str(n): sound(*[20 + n] * 8) for n in range(TOP + 1)}
    assert shown_sounds(groups, energy_sum(list(groups.values())), 2) == [str(n) for n in reversed(range(TOP + 1))]
