"""Handbook acoustics of ducts, openings, panels and small rooms, in octave bands."""
