"""The inch-pound units in which the handbook formulas are written."""

INCH = 0.0254
FOOT = 0.3048
INCH_OF_WATER = 249.089
"""Pa."""
CUBIC_FOOT_PER_MINUTE = 4.719474e-4
"""m3/s."""
POUND_PER_SQUARE_FOOT = 4.882428
"""kg/m2."""

SPEED_OF_SOUND = 343.2
"""Of air at 20 degC, m/s."""
DENSITY = 1.204
"""Of air at 20 degC, kg/m3."""

POISSON = 0.3
"""Of every sheet material, as taken throughout."""
