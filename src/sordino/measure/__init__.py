"""From recordings, typed levels and readings of air to what was measured, beside what was predicted."""
