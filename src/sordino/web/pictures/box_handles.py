"""What of a box can be dragged, or moved with arrow keys, in its section."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Literal

from sordino.assess.box_picture import BoxPicture
from sordino.elements.box import LARGEST, SMALLEST, Slope
from sordino.kinds import INCH
from sordino.physics.wave.prism import Port
from sordino.units import System, show
from sordino.web.pictures import marks
from sordino.web.pictures.box_frame import deepest

Axis = Literal["x", "z"]
STEP = {"metric": 0.01, "inch": 0.5 * INCH}
"""How far one key press moves something, m."""
PLACES = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along a wall its handle may lie, the first that is clear of ducts."""
CLEAR = 0.06
"""How far handles keep from the edge of a duct, m."""
LINING = 0.42
"""Where along the box the handle of its lining lies."""
OPEN = ("labyrinth", "straight", "plenum", "shallow")
"""Families with lining on the floor of the section."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Handle:
    """One number of the plan file at its place in the section, all in metres."""

    field: str
    """Path in the box's table, its steps joined by points."""
    label: str
    axis: Axis
    at: tuple[float, float]
    value: float
    low: float
    high: float
    sign: float = 1.0
    """-1 where the value grows against the axis."""


def handles(picture: BoxPicture) -> Iterator[Handle]:
    """Sizes, mouths, lining, slopes and the ends of a custom box's dividers."""
    yield from _sizes(picture)
    yield from _mouths(picture)
    yield from _slopes(picture)
    box, prism = picture.box, picture.made.prism
    if box.family in OPEN:
        at = (LINING * prism.length, box.lining)
        most = max(box.pass_height / 2.0, box.lining)
        yield Handle(field="lining", label="Lining", axis="z", at=at, value=box.lining, low=0.0, high=most)
    for index, divider in enumerate(box.dividers):
        yield from _divider(index, divider.start, divider.end, (prism.length, prism.height))


def _sizes(picture: BoxPicture) -> Iterator[Handle]:
    prism = picture.made.prism
    upright = "width" if picture.box.family == "shallow" else "height"
    right, top = prism.right.drop, (prism.left.run, prism.right.run)
    place = free(picture, "right", prism.height - right)
    at = (prism.length, place * (prism.height - right)) if place is not None else (prism.length + deepest(picture), 0.0)
    yield Handle(field="length", label="Inside length", axis="x", at=at, value=prism.length, low=SMALLEST, high=LARGEST)
    level = prism.length - sum(top)
    share = free(picture, "ceiling", level)
    at = (top[0] + (share if share is not None else 1.0) * level, prism.height)
    label = f"Inside {upright}"
    yield Handle(field=upright, label=label, axis="z", at=at, value=prism.height, low=SMALLEST, high=LARGEST)


def free(picture: BoxPicture, face: str, long: float) -> float | None:
    """Share along a wall at which no duct is; None if ducts take all of it."""
    taken = [port for port in picture.made.prism.ports if port.face == face]
    middles = [port.centre[2] if face in ("left", "right") else port.centre[0] for port in taken]
    half = max(picture.section.width, picture.section.height) / 2.0 + CLEAR
    clear = [share for share in PLACES if all(abs(share * long - middle) > half for middle in middles)]
    return clear[0] if clear else None


def _mouths(picture: BoxPicture) -> Iterator[Handle]:
    """Of mouths that the plan states; where a family has its own there is no number to change."""
    for name, port in zip(("inlet", "outlet"), picture.made.prism.ports, strict=True):
        # along a slope counts up the slope, which no handle along one axis can show
        if getattr(picture.box, name) is not None and not port.face.endswith("slope"):
            yield _mouth(picture, name, port)


def _mouth(picture: BoxPicture, name: str, port: Port) -> Handle:
    prism, (x, _, z) = picture.made.prism, port.centre
    upright = port.face in ("left", "right")
    long, value = (prism.height, z) if upright else (prism.length, x)
    half = (port.diameter if port.diameter is not None else min(port.sides or (0.0,))) / 2.0
    axis: Axis = "z" if upright else "x"
    label = f"{name.capitalize()}, middle {'up from the floor' if upright else 'along the box'}"
    high = max(long - half, value)
    return Handle(
        field=f"{name}.along", label=label, axis=axis, at=(x, z), value=value, low=min(half, value), high=high
    )


def _slopes(picture: BoxPicture) -> Iterator[Handle]:
    prism, box = picture.made.prism, picture.box
    for side, slope in (("left", box.left_slope), ("right", box.right_slope)):
        if slope is not None:
            yield from _slope(side, slope, prism.length, prism.height)


def _slope(side: str, slope: Slope, long: float, high: float) -> Iterator[Handle]:
    left = side == "left"
    x, name = (slope.run if left else long - slope.run), f"{side}_slope"
    most_run, most_drop = max(long - SMALLEST, slope.run), max(high - SMALLEST, slope.drop)
    words = f"{side.capitalize()} slope"
    yield Handle(
        field=f"{name}.run",
        label=f"{words}, along the box",
        axis="x",
        at=(x, high),
        value=slope.run,
        low=0.01,
        high=most_run,
        sign=1.0 if left else -1.0,
    )
    yield Handle(
        field=f"{name}.drop",
        label=f"{words}, down the end",
        axis="z",
        at=(0.0 if left else long, high - slope.drop),
        value=slope.drop,
        low=0.01,
        high=most_drop,
        sign=-1.0,
    )


def _divider(
    index: int, start: tuple[float, float], end: tuple[float, float], room: tuple[float, float]
) -> Iterator[Handle]:
    """The far end of a board along its longer side, from either corner."""
    along = 0 if abs(end[0] - start[0]) >= abs(end[1] - start[1]) else 1
    axis: Axis = "x" if along == 0 else "z"
    across = (start[1 - along] + end[1 - along]) / 2.0
    for key, corner in (("from", start), ("to", end)):
        at = (corner[0], across) if along == 0 else (across, corner[1])
        yield Handle(
            field=f"dividers.{index}.{key}.{along}",
            label=f"Divider {index + 1}, {key}",
            axis=axis,
            at=at,
            value=corner[along],
            low=0.0,
            high=room[along],
        )


def grip(handle: Handle, name: str, at: marks.XY, metres: float, units: System) -> str:
    """A handle as marks: a lozenge with two ridges across the way it moves; `metres` is for a px of the picture."""
    shape = '<rect x="-18" y="-18" width="36" height="36" class="touch"/><rect x="-6" y="-10" width="12" height="20" '
    shape += 'rx="4" class="grip"/><path d="M-2 -5V5M2 -5V5" class="ridge"/>'
    turn = "" if handle.axis == "x" else " rotate(90)"
    where = f"translate({marks.number(at[0])} {marks.number(at[1])}){turn}"
    placed = marks.element("g", shape, transform=where)
    return marks.element(
        "g",
        f"<title>{escape(handle.label)}</title>{placed}",
        class_="handle",
        tabindex="0",
        role="slider",
        data_box=name,
        data_field=handle.field,
        data_axis=handle.axis,
        data_metres_per_unit=f"{handle.sign * metres:.6g}",
        data_value=f"{handle.value:.6g}",
        data_step=f"{STEP[units]:.6g}",
        data_units=units,
        aria_label=f"{handle.label} of {name}",
        aria_valuenow=f"{handle.value:.6g}",
        aria_valuemin=f"{handle.low:.6g}",
        aria_valuemax=f"{handle.high:.6g}",
        aria_valuetext=show(handle.value, "length", units),
        aria_orientation="horizontal" if handle.axis == "x" else "vertical",
    )
