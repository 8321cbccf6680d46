"""Signals: band filters, sweeps and what they tell of a path, decays, sound under a background."""
