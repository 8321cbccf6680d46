"""From a box's statement to one geometry: every family becomes a prism with regions, dividers, a tube and two mouths.

x runs along the box, z up, y across. A layout that does not fit raises Clash, which names what meets what and the
smallest change that cures it.
"""

from __future__ import annotations

from collections.abc import Callable

from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.box_custom import custom
from sordino.elements.box_ducted import serpentine
from sordino.elements.box_open import labyrinth, plenum, straight
from sordino.elements.box_passage import Layout, Station
from sordino.errors import OutOfRange
from sordino.quantities import Size

__all__ = ["Clash", "Layout", "Station", "layout"]


def layout(box: Box, section: Size) -> Layout:
    """Lay a box out for a run of that section; raises Clash."""
    if box.holds_duct and not (box.duct or section).round:
        raise Clash("a flexible duct is round, but the run is rectangular here", "give the box its own duct, as 200 mm")
    try:
        return _LAYOUTS[box.family](box, section)
    except OutOfRange as error:
        raise Clash(str(error), "change the box so that it fits") from None


_LAYOUTS: dict[str, Callable[[Box, Size], Layout]] = {
    "serpentine": serpentine,
    "labyrinth": labyrinth,
    "shallow": labyrinth,
    "straight": straight,
    "plenum": plenum,
    "custom": custom,
}
