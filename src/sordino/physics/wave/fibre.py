"""Flow resistivity of fibre from its density, its fibre size and how far it is squeezed."""

from __future__ import annotations

from sordino.bands import Array
from sordino.physics.wave.porous import AIR, Medium
from sordino.tables import table

SCATTER = 0.5
"""Nominally equal products differ by this share either way (table wave/flow_resistivity)."""

SQUEEZE_POWER = 1.5
"""Resistivity grows with density to about this power: between the fits' 1.42 and 1.59."""


def resistivity_bies_hansen(density: Array | float, diameter: float = 8e-6) -> Array | float:
    """Flow resistivity of glass fibre, 3.18e-9 density^1.53 / diameter^2, Pa s/m2.

    density kg/m3, 10 to 100; diameter m, 5 to 15 micrometres. Bies & Hansen, Applied Acoustics 13 (1980).
    """
    law = table("wave/fibre_resistivity_laws").row("law", "bies_hansen")
    return float(law["factor"]) * density ** float(law["power"]) / diameter**2


def resistivity_fibre(
    density: Array | float, law: str = "mineral_wool", radius: float | None = None, medium: Medium = AIR
) -> Array | float:
    """Flow resistivity factor viscosity (density / fibre density)^power / radius^2, Pa s/m2.

    law `mineral_wool` or `glass_wool`; density kg/m3, 10 to 150; radius m, the table's usual fibre unless
    given. Cox & D'Antonio, Acoustic Absorbers and Diffusers, as the table says.
    """
    row = table("wave/fibre_resistivity_laws").row("law", law)
    size = float(row["radius"]) if radius is None else radius
    packing = (density / float(row["fibre_density"])) ** float(row["power"])
    return float(row["factor"]) * medium.viscosity * packing / size**2


def resistivity_squeezed(resistivity: float, ratio: float) -> float:
    """Flow resistivity after squeezing to 1/ratio of the thickness: sigma ratio^1.5."""
    return resistivity * ratio**SQUEEZE_POWER
