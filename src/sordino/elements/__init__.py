"""What a builder installs: one file for each thing, with its fields, pressure loss, attenuation and own noise.

Every element answers the same questions (see `element.Element`), so the rest of Sordino never asks what kind it is.
"""
