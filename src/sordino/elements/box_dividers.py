"""The dividers of a box as boards: cut to the profile, and round those stated before them."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_planes import Frame, Plane, Vector
from sordino.elements.box_sheets import Sheet, frames, sheet_between
from sordino.physics.wave import prism as wave

OPEN = "open"
"""What an edge of a divider ends at where the air goes round it."""
Span = tuple[float, float]


def divider_sheets(box: Box, prism: wave.Prism) -> tuple[Sheet, ...]:
    """The dividers, each in as many boards as those stated before it leave of it; `level` counts them."""
    return tuple(
        _board(box, prism, number, divider, span)
        for number, divider in enumerate(prism.dividers)
        for span in _spans(divider, prism.dividers[:number])
    )


def _spans(divider: wave.Divider, before: tuple[wave.Divider, ...]) -> Iterator[Span]:
    """What of a divider's long side others leave."""
    low, high = (divider.z0, divider.z1) if divider.across_x else (divider.x0, divider.x1)
    for start, end in sorted(_taken(divider, other) for other in before if _meet(divider, other)):
        if start > low + wave.FLAT:
            yield low, start
        low = max(low, end)
    if high > low + wave.FLAT:
        yield low, high


def _meet(one: wave.Divider, other: wave.Divider) -> bool:
    along = min(one.x1, other.x1) - max(one.x0, other.x0)
    up = min(one.z1, other.z1) - max(one.z0, other.z0)
    return min(along, up) > wave.FLAT


def _taken(divider: wave.Divider, other: wave.Divider) -> Span:
    return (other.z0, other.z1) if divider.across_x else (other.x0, other.x1)


def _board(box: Box, prism: wave.Prism, number: int, divider: wave.Divider, span: Span) -> Sheet:
    frame, depth = _lies(divider)
    way: Vector = (0.0, 0.0, 1.0) if divider.across_x else (1.0, 0.0, 0.0)
    back: Vector = (-way[0], 0.0, -way[2])
    walls = [
        Plane(name=name, normal=base.n, offset=sum(a * b for a, b in zip(base.n, base.origin, strict=True)))
        for name, base in frames(prism).items()
    ]
    most = prism.height if divider.across_x else prism.length
    if span[0] > wave.FLAT:
        walls.append(Plane(name=_stop(divider, prism, span[0]), normal=back, offset=-span[0]))
    if span[1] < most - wave.FLAT:
        walls.append(Plane(name=_stop(divider, prism, span[1]), normal=way, offset=span[1]))
    layer = buildup.Layer.model_construct(board=box.divider_board, thickness=depth)
    return sheet_between(f"divider {number + 1}", number, layer, False, frame, depth, tuple(walls))


def _stop(divider: wave.Divider, prism: wave.Prism, at: float) -> str:
    """What a divider's end meets: another divider, or air."""
    for number, other in enumerate(prism.dividers):
        if other is not divider and _meets_at(divider, other, at):
            return f"divider {number + 1}"
    return OPEN


def _meets_at(divider: wave.Divider, other: wave.Divider, at: float) -> bool:
    beside = _overlap(divider, other, upright=not divider.across_x) > wave.FLAT
    edges = (other.z0, other.z1) if divider.across_x else (other.x0, other.x1)
    return beside and min(abs(at - edge) for edge in edges) < wave.FLAT


def _overlap(one: wave.Divider, other: wave.Divider, upright: bool) -> float:
    if upright:
        return min(one.z1, other.z1) - max(one.z0, other.z0)
    return min(one.x1, other.x1) - max(one.x0, other.x0)


def _lies(divider: wave.Divider) -> tuple[Frame, float]:
    """The frame of a divider, lying or standing, counted from the box's corner, and its thickness, m."""
    if divider.across_x:
        standing = Frame(origin=(divider.x0, 0.0, 0.0), u=(0.0, 1.0, 0.0), v=(0.0, 0.0, 1.0), n=(1.0, 0.0, 0.0))
        return standing, divider.x1 - divider.x0
    lying = Frame(origin=(0.0, 0.0, divider.z0), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0), n=(0.0, 0.0, 1.0))
    return lying, divider.z1 - divider.z0
