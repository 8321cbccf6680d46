"""Sordino: what the ventilation of a small quiet room will do, before it is built."""

__version__ = "0.1.0"
