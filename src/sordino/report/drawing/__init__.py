"""Drawings: recorded once in millimetres of paper, then rendered."""
