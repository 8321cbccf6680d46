"""What any fibre must obey: passivity, limits, and a frame that only adds mass."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.errors import OutOfRange
from sordino.physics.wave.porous import AIR, Fibre, absorption, fluid_air, fluid_miki, limp, surface_impedance

BAND = np.geomspace(63, 8000, 25)


@given(st.floats(1e3, 6e4), st.floats(0.01, 0.3))
def test_a_layer_never_gives_energy_back(resistivity: float, thickness: float) -> None:
    """Absorption stays between 0 and 1 down to f/sigma of 0.001, well below the fit."""
    kept = absorption(surface_impedance(fluid_miki(BAND, resistivity), BAND, thickness))
    assert ((kept > 0) & (kept <= 1)).all()


@given(st.floats(1e3, 6e4))
def test_a_heavy_frame_is_a_rigid_frame(resistivity: float) -> None:
    """The limp density tends to the rigid one, and for light frames lies below it at low frequencies."""
    rigid = fluid_miki(BAND, resistivity)
    assert np.allclose(limp(rigid, 1e9).density, rigid.density, rtol=1e-5)
    assert abs(limp(rigid, 12.0).density[0]) < abs(rigid.density[0])


def test_vanishing_resistivity_is_air() -> None:
    """Fibre of almost no resistivity is air; none at all is refused by name and value."""
    thin, air = fluid_miki(BAND, 1e-4), fluid_air(BAND)
    assert np.allclose(thin.density, air.density, rtol=1e-2)
    assert np.allclose(thin.bulk_modulus, AIR.bulk_modulus, rtol=1e-2)
    with pytest.raises(OutOfRange, match="flow resistivity is 0"):
        Fibre().fluid(BAND)


def test_validity_is_recorded() -> None:
    """sigma 10k is valid from 100 Hz to 10 kHz, no further."""
    valid = fluid_miki(np.array([90.0, 110.0, 9.9e3, 10.1e3]), 1e4).valid
    assert valid.tolist() == [False, True, True, False]
