"""How sound divides where a duct branches or changes its area."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array


def branch_split(main_area: float, branch_areas: ArrayLike, index: int) -> float:
    """Loss from the main duct into one branch, dB, positive (SMACNA eq 11-120; ASHRAE).

    -10 lg[1 - ((m - 1)/(m + 1))^2] - 10 lg(S_i / sum S), m = sum S / S_main. Areas in m2; `branch_areas`
    holds every duct that leaves, the straight one too.
    """
    areas = np.asarray(branch_areas, float)
    return float(area_change(main_area, areas.sum()) - 10.0 * np.log10(areas[index] / areas.sum()))


def area_change(area_in: ArrayLike, area_out: ArrayLike) -> Array:
    """Loss of a plane wave at a sudden change of area, 10 lg[(1 + m)^2 / (4 m)], dB; same in both
    directions."""
    m = np.asarray(area_out, float) / np.asarray(area_in, float)
    return 10.0 * np.log10((1.0 + m) ** 2 / (4.0 * m))
