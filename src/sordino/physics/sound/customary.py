"""What the handbook formulas of sound take for granted."""

SPEED_OF_SOUND = 343.2
"""Of air at 20 degC, m/s."""
DENSITY = 1.204
"""Of air at 20 degC, kg/m3."""

POISSON = 0.3
"""Of every sheet material, as taken throughout."""
