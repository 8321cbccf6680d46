"""A bank of one-third octave filters that takes a signal piece by piece and keeps only what the next piece needs."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array
from sordino.physics.signal.filters import halving_filter, thirds_bank
from sordino.physics.signal.thirds import THIRDS

GRAIN = 1024
"""Pieces are multiples of this many samples, so that every halving comes out even."""


class Bank:
    """The filters of one rate with their memory."""

    def __init__(self, rate: float) -> None:
        self.bands = thirds_bank(rate)
        self.depth = max((band.halvings for band in self.bands), default=0)
        self.memory = [np.zeros((len(band.sections), 2)) for band in self.bands]
        self.halving = [np.zeros((len(halving_filter()), 2)) for _ in range(self.depth)]

    def energies(self, piece: Array) -> Array:
        """Mean square of a piece in each of the 27 thirds, NaN where the rate does not reach; the memory moves on.

        The piece is a multiple of GRAIN samples long.
        """
        from scipy.signal import sosfilt

        found = np.full(THIRDS, np.nan)
        signal = piece
        for step in range(self.depth + 1):
            for index, band in enumerate(self.bands):
                if band.halvings == step:
                    out, self.memory[index] = sosfilt(band.sections, signal, zi=self.memory[index])
                    found[index] = np.dot(out, out) / out.size
            if step < self.depth:
                smooth, self.halving[step] = sosfilt(halving_filter(), signal, zi=self.halving[step])
                signal = smooth[::2]
        return found
