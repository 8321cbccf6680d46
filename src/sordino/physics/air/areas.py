"""Loss coefficients of entries, exits and changes of section; areas in any one unit.

Every coefficient of a change of section refers to the velocity pressure at the smaller end, an entry or
exit to that in the duct.
"""

from __future__ import annotations

import numpy as np

from sordino.physics.air.tabulated import Value, between

exit_loss: float = 1.0
"""A duct blowing into a room or a chamber loses its whole velocity pressure."""


def sudden_expansion(a1: Value, a2: Value) -> Value:
    """Sudden enlargement on the velocity pressure at a1, (1 - a1/a2)^2 (Borda-Carnot); 0 if a1 > a2."""
    return (1.0 - np.minimum(a1 / a2, 1.0)) ** 2


def sudden_contraction(a1: Value, a2: Value) -> Value:
    """Sudden contraction on the velocity pressure at a2 (Rennels and Hudson 2012); 0 if a2 > a1."""
    return conical_contraction(a1, a2, 180.0)


def conical_contraction(a1: Value, a2: Value, included_angle: Value) -> Value:
    """Full cone from a1 down to a2, 0 to 180 degrees, on the velocity pressure at a2, without wall friction.

    K = 0.0696 sin(t/2) (1 - b^5) l^2 + (l - 1)^2, l = 1 + 0.622 (t/180)^0.8 (1 - 0.215 b^2 - 0.785 b^5),
    b = d2/d1 (Rennels and Hudson, Pipe Flow, 2012).
    """
    beta = np.sqrt(np.minimum(a2 / a1, 1.0))
    jet = 1.0 + 0.622 * (included_angle / 180.0) ** 0.8 * (1.0 - 0.215 * beta**2 - 0.785 * beta**5)
    turn = np.sin(np.radians(included_angle) / 2.0)
    return 0.0696 * turn * (1.0 - beta**5) * jet**2 + (jet - 1.0) ** 2


def conical_expansion(a1: Value, a2: Value, included_angle: Value) -> Value:
    """Diffuser from a1 up to a2, 0 to 180 degrees, on the velocity pressure at a1 (Idelchik 1966 tables)."""
    ratio = a1 / a2
    friction = between("air/diffuser_friction", included_angle, ratio)
    return between("air/diffuser", included_angle, ratio) + friction


def tapered(area_in: Value, area_out: Value, included_angle: Value) -> Value:
    """Gradual change of section, widening or narrowing, on the velocity pressure at the smaller end."""
    narrowing = conical_contraction(area_in, area_out, included_angle)
    widening = conical_expansion(area_in, area_out, included_angle)
    chosen: Value = np.where(np.greater(area_out, area_in), widening, narrowing)
    return chosen[()]


def entry_sharp(length_over_d: Value = 0.0, edge_over_d: Value = 0.0) -> Value:
    """Sharp entry standing L/D out of a wall, duct edge t/D: 0.50 flush, 1.0 far out (Idelchik 3-1)."""
    return between("air/entry_wall", length_over_d, edge_over_d)
