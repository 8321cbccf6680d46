"""Ratios measured in one run: `python -m benchmarks` prints one line each, name, value, goal."""
