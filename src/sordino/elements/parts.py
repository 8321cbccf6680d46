"""All elements that a run may hold, told apart by `is`."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sordino.elements.bend import Bend
from sordino.elements.boot import Boot
from sordino.elements.damper import Damper
from sordino.elements.filter import Filter
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.lined_box import LinedBox
from sordino.elements.metal_duct import MetalDuct
from sordino.elements.open_end import OpenEnd
from sordino.elements.silencer import Silencer
from sordino.elements.transition import Transition

Part = Annotated[
    MetalDuct | FlexibleDuct | Bend | Transition | Boot | Damper | Filter | Grille | OpenEnd | LinedBox | Silencer,
    Field(discriminator="kind"),
]
