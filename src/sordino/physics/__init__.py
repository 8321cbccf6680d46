"""Pure functions of numbers: no plan, no file, no state."""
