"""Changed plans, assessed again: what would help, and how variants compare."""
