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
EDGE, STUB, OVER = 2.0, 6.0, 8.0
"""Room round the picture, the length of duct drawn, and that for the words over or under it, mm."""
TALLEST = 74.0
"""Height that a section may take, mm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxFrame:
    """A section in its picture, mm."""

    view: View
    wide: float
    bottom: float
    """Height at which casing and ducts end."""
    deep: float
    """The thickest casing."""
    scale: float

    @property
    def wide_px(self) -> float:
        """Width of the picture."""
        return self.wide * self.scale


def box_frame(picture: BoxPicture, narrow: bool, top: float, sides: tuple[float, float]) -> BoxFrame:
    """Lay the section into the width, under `top` mm, with room left free at both sides, mm."""
    prism, scale = picture.made.prism, SCALE[narrow]
    wide, deep = (marks.NARROW if narrow else marks.WIDE) / scale, deepest(picture)
    room = wide - sum(sides) - 2.0 * EDGE
    of_paper = min(room / (prism.length + 2.0 * deep), TALLEST / (prism.height + 2.0 * deep))
    above = STUB + OVER if joins(picture, "ceiling") else 0.0
    below = STUB + OVER if joins(picture, "floor") else 0.0
    spare = room - of_paper * (prism.length + 2.0 * deep)
    lower = top + above + of_paper * (prism.height + deep)
    left = EDGE + sides[0] + spare / 2.0 + of_paper * deep
    return BoxFrame(
        view=View(left=left, lower=lower, scale=of_paper),
        wide=wide,
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


def beside(picture: BoxPicture, room: float) -> tuple[float, float]:
    """Room at the left and the right end, `room` mm where a duct meets the box there."""
    left, right = (room if joins(picture, face) else 0.0 for face in ("left", "right"))
    return left, right
