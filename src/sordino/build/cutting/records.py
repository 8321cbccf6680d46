"""The records of a cut plan, in millimetres: which part lies where on which sheet, and which stick on which bar.

A sheet lies with its length along x and its width along y; its grain, where it has one, runs along x. A cut part is the
Part of the box itself, so its label and size are those of every drawing and step.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sordino.build.part import Hole, Part, Stick
from sordino.elements.box_planes import Flat


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One kind of sheet on hand or in the shop."""

    name: str
    """As it is listed, `plywood 18 mm, 2440 x 1220 mm`."""
    board: str
    thickness: float
    length: float
    width: float
    count: int | None
    """How many are on hand; None of a size that the shop sells, as many as wanted."""

    @property
    def owned(self) -> bool:
        """Whether it is on hand already and costs nothing more."""
        return self.count is not None

    @property
    def area(self) -> float:
        """mm2."""
        return self.length * self.width


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """One part where it is cut from a sheet: the lower left corner of its piece, and whether it is turned."""

    part: Part
    x: float
    y: float
    turned: bool
    """By a quarter to the left: the part's u then runs along y, and its v against x."""

    @property
    def label(self) -> str:
        """That of the part."""
        return self.part.label

    @property
    def size(self) -> tuple[float, float]:
        """Along x and y of the sheet."""
        u, v = self.part.size
        return (v, u) if self.turned else (u, v)

    def at(self, point: Flat) -> Flat:
        """Where a point of the part's drawing lies on the sheet."""
        u, v = point
        return (self.x + self.part.size[1] - v, self.y + u) if self.turned else (self.x + u, self.y + v)

    @property
    def outline(self) -> tuple[Flat, ...]:
        """The part's outline on the sheet."""
        return tuple(self.at(point) for point in self.part.outline)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The part's holes on the sheet."""
        return tuple(
            replace(hole.turned if self.turned else hole, centre=self.at(hole.centre)) for hole in self.part.holes
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """One straight saw cut through a whole piece, from edge to edge; `first` to `last` is its kerf's middle."""

    number: int
    first: Flat
    last: Flat


@dataclass(frozen=True, kw_only=True, slots=True)
class Offcut:
    """What is left of a sheet in one rectangle."""

    x: float
    y: float
    length: float
    width: float
    kept: bool
    """Whether it is large enough to keep."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """One sheet with what is cut from it, and the cuts in an order in which each goes from edge to edge."""

    label: str
    """Of the sheet, unique in the project, as `Sheet 3`."""
    sheet: Sheet
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def used(self) -> float:
        """Share of the sheet that becomes pieces."""
        return sum(one.size[0] * one.size[1] for one in self.placed) / self.sheet.area


@dataclass(frozen=True, kw_only=True, slots=True)
class CutPlan:
    """All sheets of one board and thickness, and how near that is to what can be proven."""

    board: str
    thickness: float
    layouts: tuple[Layout, ...]
    too_large: tuple[Part, ...]
    """Parts that no sheet of the stock can hold, the way their grain runs, or for which none on hand is left."""
    kerf: float
    trim: float
    bound: int
    """No cutting by through cuts can do with fewer sheets, those on hand counted."""
    area_bound: float
    """Nor with less area of sheets from the shop, m2."""
    method: str
    """How the layout was found and the bound proven, in words."""
    limit: float
    """Seconds that the search was allowed."""
    seconds: float
    """Seconds that it took."""

    @property
    def sheets(self) -> int:
        """Sheets used, those on hand counted."""
        return len(self.layouts)

    @property
    def bought(self) -> int:
        """Sheets to buy."""
        return sum(1 for layout in self.layouts if not layout.sheet.owned)

    @property
    def area_bought(self) -> float:
        """Of sheets to buy, m2."""
        return 1e-6 * sum(layout.sheet.area for layout in self.layouts if not layout.sheet.owned)

    @property
    def proven(self) -> bool:
        """Whether no cutting can need less from the shop."""
        return self.area_bought <= self.area_bound + 1e-6

    @property
    def parts(self) -> tuple[Part, ...]:
        """Every part that is placed, sheet by sheet."""
        return tuple(one.part for layout in self.layouts for one in layout.placed)


@dataclass(frozen=True, kw_only=True, slots=True)
class Length:
    """One kind of stick on hand or in the shop, by its section and length."""

    name: str
    section: tuple[float, float]
    """Sides, the shorter first."""
    length: float
    count: int | None
    """How many are on hand; None of a length that the shop sells."""

    @property
    def owned(self) -> bool:
        """Whether it is on hand already and costs nothing more."""
        return self.count is not None


@dataclass(frozen=True, kw_only=True, slots=True)
class CutStick:
    """One stick where it is cut from a bar: how far its start is from the bar's."""

    stick: Stick
    x: float

    @property
    def label(self) -> str:
        """That of the stick."""
        return self.stick.label


@dataclass(frozen=True, kw_only=True, slots=True)
class Bar:
    """One stock length with the sticks cut from it, from its start on."""

    label: str
    """Unique in the project, as `Bar 3`."""
    stock: Length
    cut: tuple[CutStick, ...]
    rest: float
    """What is left over at its end."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StickPlan:
    """All bars of one section, and how near that is to what can be proven."""

    section: tuple[float, float]
    bars: tuple[Bar, ...]
    too_long: tuple[Stick, ...]
    kerf: float
    bound: int
    """No cutting can do with fewer bars, those on hand counted."""
    length_bound: float
    """Nor with less length from the shop, mm."""
    method: str
    limit: float
    seconds: float

    @property
    def bought(self) -> int:
        """Bars to buy."""
        return sum(1 for bar in self.bars if not bar.stock.owned)

    @property
    def length_bought(self) -> float:
        """Of bars to buy, mm."""
        return sum(bar.stock.length for bar in self.bars if not bar.stock.owned)

    @property
    def proven(self) -> bool:
        """Whether no cutting can need less from the shop."""
        return self.length_bought <= self.length_bound + 1e-6


@dataclass(frozen=True, kw_only=True, slots=True)
class Cutting:
    """The cut plan of a whole project: boards by kind and thickness, sticks by section."""

    plans: tuple[CutPlan, ...]
    sticks: tuple[StickPlan, ...]

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """Every sheet."""
        return tuple(layout for plan in self.plans for layout in plan.layouts)

    @property
    def bars(self) -> tuple[Bar, ...]:
        """Every bar."""
        return tuple(bar for plan in self.sticks for bar in plan.bars)
