"""What a thickness of fibre absorbs."""

from __future__ import annotations

import numpy as np

from sordino.elements.lining import REFERENCE, fibre_absorption
from sordino.physics.sound.sources import absorption


def test_the_measured_thickness_is_as_measured() -> None:
    """50 mm of 64 kg/m3 on a rigid face."""
    np.testing.assert_allclose(fibre_absorption(0.05), absorption(REFERENCE))


def test_twice_the_depth_moves_the_curve_an_octave_down() -> None:
    """A porous layer absorbs by its depth in wavelengths (textbook scaling; derived), within what an octave is."""
    np.testing.assert_allclose(fibre_absorption(0.10)[:-1], absorption(REFERENCE)[1:], atol=0.01)


def test_thicker_never_absorbs_less_below_a_kilohertz() -> None:
    """And nothing absorbs more than it gets."""
    depths = [0.012, 0.025, 0.05, 0.075, 0.1, 0.15]
    curves = np.array([fibre_absorption(depth) for depth in depths])
    assert np.all(np.diff(curves[:, :5], axis=0) >= -1e-9)
    assert np.all((curves > 0.0) & (curves <= 1.0))
