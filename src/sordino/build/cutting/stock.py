"""The sheets that a layout may use, in the same units as blanks, and what it means that one solution is better."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.build.cutting.blanks import Blank, Block


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """One kind of sheet, kerf added; `count` of those on hand, None of one that is bought; `cost` of one."""

    length: int
    width: int
    count: int | None
    cost: float

    @property
    def area(self) -> int:
        """Of one."""
        return self.length * self.width


@dataclass(frozen=True, kw_only=True, slots=True)
class Used:
    """One sheet with what is cut from it."""

    kind: int
    block: Block


Solution = tuple[Used, ...]


def merit(solution: Solution, kinds: tuple[Kind, ...]) -> tuple[float, int, float, int]:
    """Less is better: cost, sheets to buy, area taken from what is on hand, and less of the last sheet used up."""
    bought = [kinds[used.kind] for used in solution if kinds[used.kind].count is None]
    owned = sum(kinds[used.kind].area for used in solution if kinds[used.kind].count is not None)
    spread = min((used.block.length * used.block.width for used in solution), default=0)
    return round(sum(kind.cost for kind in bought), 6), len(bought), owned, spread


def cost(solution: Solution, kinds: tuple[Kind, ...]) -> float:
    """Of the sheets to buy."""
    return merit(solution, kinds)[0]


def complete(solution: Solution, blanks: tuple[Blank, ...]) -> bool:
    """Whether every blank is cut as often as it is wanted."""
    counts = [0] * len(blanks)
    for used in solution:
        for number in used.block.held:
            counts[number] += 1
    return counts == [blank.count for blank in blanks]
