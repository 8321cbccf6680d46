"""How well a panel radiates: pushed by sound from outside, pushed all at once, or ringing in its own waves."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.physics.sound.customary import SPEED_OF_SOUND

WIDEST, OFFSET, FLATTEST = 1.3, 0.124, 0.9
"""Constants of Davy's fit to the forced radiation integral."""


def forced_radiation_efficiency(f: ArrayLike, cosine: ArrayLike, width: float, height: float) -> Array:
    """Efficiency of a panel in a wall driven by a plane wave, sides and direction round the normal averaged.

    1/sqrt(g^2 + q^2), q = 2 pi/(k^2 S); g the cosine of the angle of incidence down to the size's own limit
    p = min(1.3 sqrt(pi/2ka), 0.9), a straight line from there to 1/[2/3 sqrt(2ka/pi) - 0.124] at grazing;
    a = S / perimeter x 2 (Davy 2009, JASA 126, 694). f in Hz, the cosine in 0..1, shapes broadcast; sides in m.
    Within 0.5 dB of the integral itself for sides up to 2 to 1.
    """
    k = 2.0 * np.pi * np.asarray(f, float) / SPEED_OF_SOUND
    cos, area = np.asarray(cosine, float), width * height
    ka = k * area / (width + height)
    limit = np.minimum(WIDEST * np.sqrt(np.pi / (2.0 * ka)), FLATTEST)
    grazing = 1.0 / np.maximum(2.0 / 3.0 * np.sqrt(2.0 * ka / np.pi) - OFFSET, 1e-3)
    line = grazing + (limit - grazing) * cos / limit
    return 1.0 / np.hypot(np.where(cos >= limit, cos, line), 2.0 * np.pi / (k**2 * area))


def radiation_efficiency_small(f: ArrayLike, width: float, height: float) -> Array:
    """Efficiency of a panel in a wall that moves all in phase, 1/sqrt[1 + (2 pi / k^2 S)^2] (Davy 2009).

    k^2 S / 2 pi while it is small against the wavelength, whatever its shape; one when large. Frequencies in Hz
    of any shape, sides in m. Within 0.7 dB of Rayleigh's piston.
    """
    k = 2.0 * np.pi * np.asarray(f, float) / SPEED_OF_SOUND
    return 1.0 / np.hypot(1.0, 2.0 * np.pi / (k**2 * width * height))


def resonant_radiation_efficiency(f: ArrayLike, wave_ratio: ArrayLike, width: float, height: float) -> Array:
    """Efficiency of a panel's own bending waves below coincidence, mean of its modes (EN 12354-1:2000, Annex B).

    (U/S)(c/f_c) d1 + d2 in its notation, at most 4 S (f/c)^2 below the first mode and never above one.
    wave_ratio lambda = speed of the bending wave over that of sound, 0..1; f_c = f/lambda^2. Sides in m.
    """
    hertz, ratio = np.asarray(f, float), np.clip(np.asarray(wave_ratio, float), 1e-6, 0.9999)
    critical, area, rest = hertz / ratio**2, width * height, 1.0 - ratio**2
    edge = (rest * np.log((1.0 + ratio) / (1.0 - ratio)) + 2.0 * ratio) / (4.0 * np.pi**2 * rest**1.5)
    corner = 8.0 * SPEED_OF_SOUND**2 * (1.0 - 2.0 * ratio**2) / (critical**2 * np.pi**4 * area * ratio * np.sqrt(rest))
    mean = 2.0 * (width + height) / area * SPEED_OF_SOUND / critical * edge + np.maximum(corner, 0.0)
    first = SPEED_OF_SOUND**2 / (4.0 * critical) * (width**-2.0 + height**-2.0)
    piston = 4.0 * area * (hertz / SPEED_OF_SOUND) ** 2
    return np.minimum(np.where(hertz < first, np.minimum(mean, piston), mean), 1.0)
