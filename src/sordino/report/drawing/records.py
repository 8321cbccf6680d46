"""What a drawing is made of, in millimetres of paper from its upper left corner: frozen records without a renderer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

XY = tuple[float, float]
Ring = tuple[XY, ...]
Rectangle = tuple[float, float, float, float]
"""Left, upper, right and lower edge."""
WIDEST_LETTER = 0.61
"""Width of a letter over the size of the lettering: no usual sans serif is wider on average."""
CAP, DESCENT = 0.76, 0.24
"""How far lettering reaches over and under its base line, over its size."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Area:
    """A filled shape; rings inside one another are holes."""

    rings: tuple[Ring, ...]
    fill: str = "none"
    stroke: str = "none"
    width: float = 0.0
    opacity: float = 1.0
    fibre: bool = False
    """Filled with the sign for fibre instead of a colour."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stroke:
    """A line through points."""

    points: Ring
    colour: str = "#222222"
    width: float = 0.25
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Text:
    """One line of lettering on its base line; `upright` reads from below."""

    at: XY
    text: str
    size: float = 2.6
    anchor: Literal["start", "middle", "end"] = "start"
    upright: bool = False
    bold: bool = False
    colour: str = "#222222"
    plate: bool = False
    """Whether a pale plate lies under it."""

    @property
    def length(self) -> float:
        """Room it takes along its base line, mm."""
        return len(self.text) * self.size * WIDEST_LETTER

    @property
    def box(self) -> Rectangle:
        """The rectangle it takes."""
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.length
        x, y = self.at
        up, down = CAP * self.size, DESCENT * self.size
        if self.upright:
            return x - up, y + back - self.length, x + down, y + back
        return x - back, y - up, x - back + self.length, y + down


@dataclass(frozen=True, kw_only=True, slots=True)
class Clipped:
    """Areas and lines that show only inside some rings."""

    within: tuple[Ring, ...]
    items: tuple[Area | Stroke, ...]


Item = Area | Stroke | Text | Clipped


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One drawing."""

    width: float
    height: float
    title: str
    description: str
    items: tuple[Item, ...]

    @property
    def texts(self) -> Iterator[Text]:
        """All its lettering."""
        return (item for item in self.items if isinstance(item, Text))


def meet(one: Rectangle, other: Rectangle) -> bool:
    """Whether two rectangles share more than an edge."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def rectangle(left: float, upper: float, right: float, lower: float) -> Ring:
    """The corners of a rectangle."""
    return (left, upper), (right, upper), (right, lower), (left, lower)
