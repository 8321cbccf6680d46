"""Colours for levels: dark where it is loud, pale where it is quiet, so that grey and colour-blind eyes read it too."""

from __future__ import annotations

from functools import cache
from math import cos, radians, sin

import numpy as np

STEP = 3.0
"""dB from one colour to the next."""
LOUDEST, QUIETEST = 6.0, -60.0
"""Levels above and below which the colour no longer changes, dB."""
LIGHTNESS, CHROMA, HUE = (0.45, 0.98), (0.15, 0.02), (-18.0, 92.0)
"""Ends of the scale in the Oklab space: plum over rust and sand to cream; lightness rises evenly."""


def edges() -> tuple[float, ...]:
    """Levels between two colours, from quiet to loud, dB."""
    return tuple(float(level) for level in np.arange(QUIETEST, LOUDEST + STEP / 2.0, STEP))


@cache
def colours() -> tuple[str, ...]:
    """One colour under the lowest edge, one between each two, one over the highest."""
    count = len(edges()) + 1
    return tuple(_colour(1.0 - index / (count - 1)) for index in range(count))


def _colour(quiet: float) -> str:
    lightness, chroma, hue = (low + quiet * (high - low) for low, high in (LIGHTNESS, CHROMA, HUE))
    return _hex(lightness, chroma * cos(radians(hue)), chroma * sin(radians(hue)))


def _hex(lightness: float, a: float, b: float) -> str:
    """sRGB of an Oklab colour (B. Ottosson, A perceptual color space for image processing, 2020; from memory)."""
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    linear = (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )
    return "#" + "".join(f"{round(255 * _encoded(min(max(part, 0.0), 1.0))):02x}" for part in linear)


def _encoded(part: float) -> float:
    return 12.92 * part if part <= 0.0031308 else 1.055 * part ** (1.0 / 2.4) - 0.055
