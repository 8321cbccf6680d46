"""A new project from a few questions."""
