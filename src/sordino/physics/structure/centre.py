"""Where a thing's mass is centred, and how its hangers share it."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array


def centre_of_mass(masses: Array, centres: Array) -> Array:
    """Sum of m r over sum of m, m, shape (3,); `masses` kg shape (n,), `centres` m shape (n, 3)."""
    return np.asarray(masses @ centres / np.sum(masses))


def hanger_shares(hangers: Array, centre: Array) -> Array:
    """Share of the weight on each hanger, shape (n,): hangers of one stiffness under a stiff box.

    1/n + ex x/sum x^2 + ey y/sum y^2, x and y from the hangers' middle, e the centre of mass from there. `hangers` m
    shape (n, 2) on a grid along both axes, `centre` shape (2,). A negative share is one that lifts off.
    """
    middle = hangers.mean(axis=0)
    arms, off = hangers - middle, centre - middle
    turns = np.sum(arms**2, axis=0)
    lever = np.divide(off, turns, out=np.zeros(2), where=turns > 0.0)
    return np.asarray(1.0 / len(hangers) + arms @ lever)
