"""Free jets against the handbook's constants and two numbers worked from them."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.physics.air.jets import jet_speed, throw

HANDBOOK = "ASHRAE Fundamentals, Space Air Diffusion, centreline constant"


@pytest.mark.parametrize(
    ("face", "constant"), [("open end", 5.7), ("bar", 4.7), ("egg-crate", 4.7), ("perforated", 4.0)]
)
def test_the_axis_of_a_jet(check: Check, face: str, constant: float) -> None:
    """K from a speed of 3.1 m/s out of 0.021 m2, 4.2 m away: K = v x / (V0 sqrt A0)."""
    speed = float(jet_speed(3.1, 0.021, 4.2, face))
    check(
        f"decay constant of a jet from {'an' if face[0] in 'eo' else 'a'} {face}",
        constant,
        speed * 4.2 / (3.1 * np.sqrt(0.021)),
        source=HANDBOOK,
        mark="memory",
        relative=0.01,
    )


def test_a_jet_is_never_faster_than_it_left_and_reaches_its_throw() -> None:
    away = np.array([0.05, 0.5, 1.0, 3.0, 9.0])
    speeds = jet_speed(2.0, 0.03, away, "bar")
    assert speeds[0] == 2.0
    assert (np.diff(speeds) <= 0.0).all()
    reach = throw(2.0, 0.03, 0.25, "bar")
    assert float(jet_speed(2.0, 0.03, reach, "bar")) == pytest.approx(0.25)
