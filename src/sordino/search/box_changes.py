"""What a few usual changes to one box would do, each alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import cast

import numpy as np

from sordino.elements.box import FOLDED, SINGLE, Box, Face, Fill, Lining, Mouth
from sordino.elements.box_layout import Clash, Layout
from sordino.elements.built_box import BuiltBox
from sordino.kinds import INCH
from sordino.physics.air.properties import Air
from sordino.physics.wave.fibre import resistivity_squeezed
from sordino.physics.wave.prism import Port
from sordino.search.box_compared import BoxChange, Known, changed, coarse_field, difference, known
from sordino.units import System, show

THICKER = {"metric": 0.025, "inch": INCH}
LININGS = {"metric": (0.025, 0.05, 0.1), "inch": (INCH, 2.0 * INCH, 4.0 * INCH)}
"""Linings that are sold, m."""
LONGER = 1.25
ALIKE = 2e-3
"""Linings nearer than this are the same, m."""
BoxEdit = Callable[[Box, Layout], Box]
"""A box and its layout to another box."""


def box_changes(built: BuiltBox, air: Air, flow: float, system: System = "metric") -> tuple[BoxChange, ...]:
    """The usual changes to a box, each alone, at a flow of `flow` m3/s.

    All are compared on the grid that is half as coarse again as the quick one, in the headline's brackets only.
    """
    base = known(built, coarse_field(built, built.build, air), air, flow, system)
    made = [changed(base, words, change) for words, change in candidates(built.build, system)]
    return (*made, *_frames(base))


def _frames(base: Known) -> Iterator[BoxChange]:
    """Fibre whose frame surely moves, or surely does not, against the lower of both."""
    field = base.built.field
    assert field is not None, "the base is solved"
    for index, words in enumerate(("frame of the fibre held still", "frame of the fibre free to move")):
        alone = replace(field, losses=field.losses[[index]])
        yield replace(difference(base, known(base.built, alone, base.air, base.flow), words), frame=True)


def candidates(box: Box, system: System) -> Iterator[tuple[str, BoxEdit]]:
    """What is tried on a box, in words and as an edit that raises a Clash where it can't be made."""
    if box.family != "custom":
        yield "one more pass, same outer size", one_more_pass
        yield "one more pass, same pass height", one_more_pass_on_top
    yield f"lining {show(THICKER[system], 'length', system)} thicker, same outer size", _thicker(THICKER[system])
    for lining in LININGS[system]:
        if abs(lining - _lining(box)) > ALIKE and abs(lining - _lining(box) - THICKER[system]) > ALIKE:
            yield f"lining of {show(lining, 'length', system)}, same outer size", _thicker(lining - _lining(box))
    yield "half as dense a fibre", lambda old, _: with_density(old, 0.5)
    yield "twice as dense a fibre", lambda old, _: with_density(old, 2.0)
    if box.dividers or (box.family in FOLDED and box.passes > 1):
        yield "no divider", without_dividers
    yield "a quarter longer", lambda old, _: old.model_copy(update={"length": LONGER * old.length})


def one_more_pass(box: Box, made: Layout) -> Box:
    """One pass more in the same outside; the far mouth moves to the other end."""
    family = "labyrinth" if box.family in SINGLE else box.family
    more = box.model_copy(update={"family": family, "passes": box.passes + 1, "inlet": None, "outlet": None})
    need = max(_mouth_height(port) for port in made.prism.ports)
    if more.pass_height < need - 1e-9:
        side = "width" if box.family == "shallow" else "height"
        grown = getattr(box, side) + more.passes * (need - more.pass_height)
        raise Clash(
            "passes of {clear} are lower than the duct's {duct}",
            f"make the inside {side} at least {{least}}",
            clear=more.pass_height,
            duct=need,
            least=grown,
        )
    return more


def _mouth_height(port: Port) -> float:
    return port.diameter if port.diameter is not None else (port.sides or (0.0, 0.0))[0]


def one_more_pass_on_top(box: Box, made: Layout) -> Box:
    """One pass more of the same height, so that the box grows by it."""
    side = "width" if box.family == "shallow" else "height"
    return one_more_pass(box.model_copy(update={side: getattr(box, side) + box.pass_height + box.divider}), made)


def _lining(box: Box) -> float:
    return max((lining.thickness for lining in box.linings), default=box.lining)


def _thicker(more: float) -> BoxEdit:
    def change(box: Box, made: Layout) -> Box:
        if box.holds_duct:
            raise Clash("fibre already fills all the room round the duct", "a larger box or a thinner duct adds some")
        linings = tuple(_lined(lining, more) for lining in box.linings)
        return box.model_copy(update={"lining": box.lining + more, "linings": linings})

    return change


def _lined(lining: Lining, more: float) -> Lining:
    return lining.model_copy(update={"thickness": max(lining.thickness + more, ALIKE)})


def with_density(box: Box, factor: float) -> Box:
    """Fibre squeezed or loosened; a stated flow resistivity goes with density to the power of 1.5."""
    fill = box.fill
    stated = fill.flow_resistivity
    update: dict[str, float | None] = {
        "density": factor * fill.density,
        "flow_resistivity": None if stated is None else resistivity_squeezed(stated, factor),
    }
    return box.model_copy(update={"fill": Fill.model_copy(fill, update=update)})


def without_dividers(box: Box, made: Layout) -> Box:
    """The same box with the same mouths and nothing between the passes; a duct inside keeps its way."""
    inlet, outlet = (
        Mouth.model_construct(face=cast(Face, port.face), along=_along(port.face, port.centre), across=None)
        for port in made.prism.ports
    )
    if box.family == "custom":
        return box.model_copy(update={"dividers": ()})
    update: dict[str, object] = {"family": "custom", "inlet": box.inlet or inlet, "outlet": box.outlet or outlet}
    if made.prism.tube is not None:
        return box.model_copy(update=update | {"centreline": corners(box, made), "bend_radius": made.radius})
    if box.family == "shallow":
        update |= {"width": box.height, "height": box.width}
    linings = tuple(Lining.model_construct(face=cast(Face, face), thickness=box.lining) for face in _lined_faces(made))
    return box.model_copy(update=update | {"linings": linings})


def _lined_faces(made: Layout) -> tuple[str, ...]:
    sloped = [name for name, cut in (("left slope", made.prism.left), ("right slope", made.prism.right)) if cut.run]
    return ("floor", "ceiling", *sloped)


def _along(face: str, centre: tuple[float, float, float]) -> float:
    return centre[2] if face in ("left", "right") else centre[0]


def corners(box: Box, made: Layout) -> tuple[tuple[float, float], ...]:
    """Corners of a folded duct's centreline in the profile, from the rounded line, m."""
    assert made.prism.tube is not None, "only asked of boxes with a duct"
    line = np.array(made.prism.tube.centreline)[:, [0, 2]]
    levels = [box.pass_height / 2.0 + index * (box.pass_height + box.divider) for index in range(box.passes)]
    found = [tuple(line[0])]
    for index, (low, high) in enumerate(pairwise(levels)):
        between = line[(line[:, 1] >= low - ALIKE) & (line[:, 1] <= high + ALIKE), 0]
        end = between.max() if index % 2 == 0 else between.min()
        found += [(end, low), (end, high)]
    return tuple((float(x), float(z)) for x, z in (*found, tuple(line[-1])))
