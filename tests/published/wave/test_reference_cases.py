"""Finite silencers and boxes worked out by other methods: round chambers, a flat box with a divider and a lining."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.physics.wave.operator import Filling
from sordino.physics.wave.porous import Fibre
from wave_cases import baffle_box, loss, round_silencer

ROUND = (0.0245, 0.0822, 0.2572)
THIRDS = 10.0 ** (np.arange(18, 31) / 10)
EMPTY = [3.78, 4.58, 5.15, 5.16, 4.04, 1.13, 1.42, 10.46, 0.46, 0.79, 2.85, 10.97, 18.96]
DIVIDED = [2.67, 2.84, 2.32, 0.65, 1.60, 8.86, 15.67, 27.7, 9.79, 5.51, 7.17, 11.59, 10.04]
LINED = [4.05, 4.80, 5.25, 5.03, 3.79, 3.52, 9.32, 10.02, 8.29, 14.61, 20.03, 31.95, 19.53]


@pytest.mark.parametrize(
    ("name", "fibre", "frequency", "published"),
    [
        (
            "empty",
            None,
            [100, 200, 333, 500, 667, 800, 1000, 1334, 1600, 2000],
            [8.65, 13.27, 15.12, 12.48, 0.11, 10.58, 15.53, 0.48, 15.88, 1.69],
        ),
        (
            "filled, Miki 10k",
            Fibre(resistivity=1e4),
            [200, 400, 600, 800, 1000, 1500, 2000, 2500, 3000],
            [14.44, 20.66, 25.57, 29.29, 32.71, 40.62, 45.69, 44.35, 41.09],
        ),
        (
            "filled, glass roving",
            Fibre(resistivity=4896, fit="glass_roving"),
            [200, 400, 600, 800, 1000, 1500, 2000, 2500, 3000],
            [13.42, 17.06, 21.13, 24.06, 26.37, 32.92, 38.15, 32.75, 30.56],
        ),
    ],
)
def test_round_chamber(
    check: Check, name: str, fibre: Fibre | None, frequency: list[float], published: list[float]
) -> None:
    """A chamber of radius 82.2 mm and length 257.2 mm on a duct of radius 24.5 mm, turned about its axis."""
    filling = Filling(fibres=(fibre,)) if fibre else Filling()
    got = loss(round_silencer(*ROUND, filled=fibre is not None), 0.003, np.array(frequency), filling)
    check(
        f"TL of a round chamber, {name}",
        published,
        got,
        source="quadratic axisymmetric elements of another code; geometry of JASA 115 (2004) 3091",
        mark="derived",
        within=0.3,
    )


@pytest.mark.parametrize(
    ("name", "lined", "divided", "published"),
    [("empty", False, False, EMPTY), ("divided", False, True, DIVIDED), ("lined", True, False, LINED)],
)
def test_flat_box(check: Check, name: str, lined: bool, divided: bool, published: list[float]) -> None:
    """A box of 0.80 x 0.50 m, one element thick, 63 Hz to 1 kHz in thirds."""
    filling = Filling(fibres=(Fibre(resistivity=1e4),)) if lined else Filling()
    got = loss(baffle_box(0.00625, lined, divided), 0.00625, THIRDS, filling)
    check(
        f"TL of a flat box, {name}",
        published,
        got,
        source="quadratic elements of another code, three meshes within 0.1 dB",
        mark="derived",
        within=0.3,
    )
