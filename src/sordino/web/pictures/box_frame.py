"""Where the section of a box lies in its picture."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.box_picture import BoxPicture
from sordino.elements import buildup
from sordino.report.drawing import section
from sordino.report.drawing.view import View
from sordino.web.pictures import marks

SCALE = {False: 4.8, True: 4.77}
"""px for a millimetre of the drawing: lettering of 2.6 mm reads as 12.5 px."""
SIDE, EDGE, STUB = 19.0, 2.0, 6.0
"""Room beside the section for ducts and their words, round the picture, and the length of duct drawn, mm."""
TALLEST = 74.0
"""Height that a section may take, mm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxFrame:
    """A section in its picture, mm."""

    view: View
    wide: float
    top: float
    """Height at which the casing begins."""
    bottom: float
    """Height at which the casing ends."""
    deep: float
    """The thickest casing."""
    scale: float

    @property
    def wide_px(self) -> float:
        """Width of the picture."""
        return self.wide * self.scale


def box_frame(picture: BoxPicture, narrow: bool, top: float, right: float = 0.0) -> BoxFrame:
    """Lay the section into the width, under `top` mm, `right` mm left free beside it for dimensions."""
    prism, scale = picture.made.prism, SCALE[narrow]
    wide, deep = (marks.NARROW if narrow else marks.WIDE) / scale, deepest(picture)
    left = EDGE + (SIDE if joins(picture, "left") else 0.0)
    room = wide - left - EDGE - max(right, SIDE if joins(picture, "right") else 0.0)
    of_paper = min(room / (prism.length + 2.0 * deep), TALLEST / (prism.height + 2.0 * deep))
    above = STUB + 8.0 if joins(picture, "ceiling") else 0.0
    below = STUB + 8.0 if joins(picture, "floor") else 0.0
    spare = room - of_paper * (prism.length + 2.0 * deep)
    lower = top + above + of_paper * (prism.height + deep)
    view = View(left=left + spare / 2.0 + of_paper * deep, lower=lower, scale=of_paper)
    return BoxFrame(
        view=view,
        wide=wide,
        top=top + above,
        bottom=lower + of_paper * deep + below,
        deep=deep * of_paper,
        scale=scale,
    )


def deepest(picture: BoxPicture) -> float:
    """The thickest casing that the section cuts, m."""
    return max(buildup.thickness(picture.box.layers(name)) for name, _, _ in section.named_edges(picture.made.prism))


def joins(picture: BoxPicture, face: str) -> bool:
    """Whether a duct meets this face."""
    return any(port.face == face for port in picture.made.prism.ports)


