"""Where a box as built departs from the box as drawn, and what each departure does on its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sordino.elements.box import Box
from sordino.elements.box_layout import Layout
from sordino.elements.built_box import BuiltBox
from sordino.physics.air.properties import Air
from sordino.search.box_compared import BoxChange, changed, coarse_field, known
from sordino.units import System, show

SIDES = ("length", "width", "height", "lining", "divider", "bend_radius")
"""Fields that hold a length."""
WORDS = {"lining": "lining", "divider": "divider thickness", "bend_radius": "bend radius"}
ALL = "all of them together"


def departures(drawn: BuiltBox, box: Box, air: Air, flow: float, system: System = "metric") -> tuple[BoxChange, ...]:
    """What each field in which `box` differs from the drawn one does alone, then all together; none if it does not.

    At a flow of `flow` m3/s, on the grid on which boxes are compared.
    """
    fields = [name for name in Box.model_fields if getattr(box, name) != getattr(drawn.build, name)]
    if not fields:
        return ()
    base = known(drawn, coarse_field(drawn, drawn.build, air), air, flow, system)
    each = [changed(base, _words(drawn.build, box, name, system), _alone(box, name)) for name in fields]
    return (*each, *_together(each, lambda: changed(base, ALL, lambda old, made: box)))


def _together(each: list[BoxChange], whole: Callable[[], BoxChange]) -> Iterator[BoxChange]:
    if len(each) > 1:
        yield whole()


def _alone(box: Box, name: str) -> Callable[[Box, Layout], Box]:
    return lambda old, made: old.model_copy(update={name: getattr(box, name)})


def _words(drawn: Box, box: Box, name: str, system: System) -> str:
    before, after = getattr(drawn, name), getattr(box, name)
    word = WORDS.get(name, f"inside {name}" if name in SIDES else name.replace("_", " "))
    if name in SIDES and before is not None and after is not None:
        return f"{word} {show(after, 'length', system)} for {show(before, 'length', system)}"
    if name == "fill":
        return f"fibre of {show(after.density, 'density', system)} for {show(before.density, 'density', system)}"
    if isinstance(after, int | str) and not isinstance(after, bool):
        return f"{word} {after} for {before}"
    return f"{word} as stated"
