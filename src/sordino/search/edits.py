"""Changes to a fitted plan, each giving a new fitted plan: parts keep their sizes, boxes their statements."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from math import ceil, sqrt
from typing import Any

import numpy as np

from sordino.assess.speeds import sold_round
from sordino.elements.box import Box
from sordino.elements.box_layout import Clash
from sordino.elements.buildup import Layer
from sordino.elements.built_box import BuiltBox
from sordino.elements.damper import Damper
from sordino.elements.element import Element
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.metal_duct import MetalDuct
from sordino.kinds import INCH
from sordino.plan.mover import PORTS, Sound
from sordino.plan.statement import Plan
from sordino.quantities import Size
from sordino.units import System

Edit = Callable[[Plan], Plan]
STEP = {"metric": 0.01, "inch": INCH / 2.0}
"""What sizes are rounded up to, m."""


def opening(plan: Plan, run: str, place: str) -> int | None:
    """Index of the part by which a run opens into a place; a window hears the ends that lie outdoors."""
    path, space = plan.run[run], plan.space.get(place)
    heard = {place} | ({key for key, each in plan.space.items() if each.kind == "outside"} if space else set())
    if path.end in heard:
        return len(path.parts) - 1
    return 0 if path.start in heard else None


def with_parts(plan: Plan, run: str, parts: Iterable[Any]) -> Plan:
    """The plan with other parts in a run."""
    changed = plan.run[run].model_copy(update={"parts": tuple(parts)})
    return plan.model_copy(update={"run": {**plan.run, run: changed}})


def with_lined_duct(run: str, place: str, length: float, lining: float) -> Edit:
    """A length of lined metal duct right behind the opening of a run, of the clear size that is there."""

    def edit(plan: Plan) -> Plan:
        part = MetalDuct.model_construct(kind="metal duct", length=length, lining=lining)
        return _behind_opening(plan, run, place, part)

    return edit


def with_box(run: str, place: str, box: Box) -> Edit:
    """A lined box right behind the opening of a run."""

    def edit(plan: Plan) -> Plan:
        key = f"new-{run}"
        part = BuiltBox.model_construct(kind="lined box", box=key, build=box)
        return _behind_opening(plan, run, place, part).model_copy(update={"box": {**plan.box, key: box}})

    return edit


def _behind_opening(plan: Plan, run: str, place: str, part: Element) -> Plan:
    path, at = plan.run[run], opening(plan, run, place)
    assert at is not None, "only asked for runs that open into the place"
    end = path.parts[at]
    size = end.section if at else end.outlet
    sized = part.model_copy(update={"size": size, "within": path.within})
    where = at if at else 1
    return with_parts(plan, run, (*path.parts[:where], sized, *path.parts[where:]))


def fitting_box(duct: Size, length: float, lining: float, system: System = "metric") -> Box:
    """A two-pass labyrinth whose passage has half as much area again as the duct, about twice as wide as high."""
    high = sqrt(1.5 * duct.area / 2.0)
    one_pass = max(high + 2.0 * lining, duct.height)
    return Box.model_construct(
        family="labyrinth",
        length=length,
        width=_up(max(2.0 * high, duct.width), system),
        height=_up(2.0 * one_pass + 0.018, system),
        passes=2,
        lining=lining,
        divider=0.018,
        shell=_doubled_plywood(),
    )


def buildable(plan: Plan, run: str) -> bool:
    """Whether every box of a run can be laid out for its duct."""
    try:
        return all(part.layout.length > 0.0 for part in plan.run[run].parts if isinstance(part, BuiltBox))
    except Clash:
        return False


@cache
def _doubled_plywood() -> tuple[Layer, ...]:
    sheet = {"board": "plywood", "thickness": "18 mm"}
    return tuple(Layer.model_validate(layer) for layer in (sheet, {"damping": True}, sheet))


def _up(length: float, system: System) -> float:
    """The next whole 10 mm, or half inch."""
    step = STEP[system]
    return ceil(length / step - 1e-6) * step


def with_lining(run: str, lining: float) -> Edit:
    """Fibre lining in the bare metal duct of a run, its clear size kept."""

    def line(part: Element) -> Element:
        bare = isinstance(part, MetalDuct) and part.lining is None
        return part.model_copy(update={"lining": lining}) if bare else part

    return _for_each_part(run, line)


def with_metal_for_flexible(run: str) -> Edit:
    """Metal duct in place of the flexible duct of a run."""

    def swap(part: Element) -> Element:
        if not isinstance(part, FlexibleDuct):
            return part
        return MetalDuct.model_construct(kind="metal duct", length=part.length, size=part.size, within=part.within)

    return _for_each_part(run, swap)


def with_open_damper(run: str) -> Edit:
    """Every damper of a run fully open."""
    return _for_each_part(
        run, lambda part: part.model_copy(update={"angle": 0.0}) if isinstance(part, Damper) else part
    )


def with_opening(run: str, place: str, size: Size) -> Edit:
    """Another size of the opening behind a run's grille."""

    def edit(plan: Plan) -> Plan:
        parts = list(plan.run[run].parts)
        at = opening(plan, run, place)
        assert at is not None, "only asked for runs that open into the place"
        parts[at] = parts[at].model_copy(update={"opening": size})
        return with_parts(plan, run, parts)

    return edit


def larger_opening(grille: Grille, share: float, system: System = "metric") -> Size:
    """The grille's opening with `share` times the area, rounded up."""
    return _scaled(grille.mouth, sqrt(share), system)


def _scaled(size: Size, scale: float, system: System) -> Size:
    return Size(round=size.round, width=_up(size.width * scale, system), height=_up(size.height * scale, system))


def with_wider_duct(run: str) -> Edit:
    """Every duct of a run one size up."""

    def edit(plan: Plan) -> Plan:
        def widen(part: Element) -> Element:
            to = getattr(part, "to", None)
            update: dict[str, object] = {"to": next_size(to, plan.units)} if isinstance(to, Size) else {}
            return part.model_copy(update=update | {"size": next_size(part.section, plan.units)})

        wide = _for_each_part(run, widen)(plan)
        path = wide.run[run].model_copy(update={"size": next_size(plan.run[run].size, plan.units)})
        return wide.model_copy(update={"run": {**wide.run, run: path}})

    return edit


def next_size(size: Size, system: System = "metric") -> Size:
    """The next round duct that is sold in that system; a rectangle a quarter larger each way."""
    if not size.round:
        return _scaled(size, 1.25, system)
    sold = sold_round(system)
    larger = sold[sold > size.width * 1.05]
    return Size.circle(float(larger[0])) if larger.size else _scaled(size, 1.25, system)


def with_speed(mover: str, mode: str, speed: float) -> Edit:
    """Another speed of a mover in one mode."""

    def edit(plan: Plan) -> Plan:
        setting = plan.mode[mode]
        changed = setting.model_copy(update={"speeds": {**setting.speeds, mover: speed}})
        return plan.model_copy(update={"mode": {**plan.mode, mode: changed}})

    return edit


def with_quieter(mover: str, less: float) -> Edit:
    """A mover whose every level is `less` dB lower."""

    def edit(plan: Plan) -> Plan:
        machine = plan.mover[mover].model_copy(update={"sound": _quieter(plan.mover[mover].sound, less)})
        return plan.model_copy(update={"mover": {**plan.mover, mover: machine}})

    return edit


def _quieter(sound: Sound, less: float) -> Sound:
    fields = {port: "return_" if port == "return" else port for port in PORTS}
    spectra = {fields[port]: given for port in PORTS if (given := sound.given(port)) is not None}
    update: dict[str, object] = {field: tuple(level - less for level in given) for field, given in spectra.items()}
    return sound.model_copy(update=update | ({} if sound.rated is None else {"rated": sound.rated - less}))


def with_heavier_shell(shell: str, more: float) -> Edit:
    """A shell that loses `more` dB more in every band than now."""

    def edit(plan: Plan) -> Plan:
        loss = tuple(float(band) for band in np.asarray(plan.shell[shell].transmission_loss) + more)
        return _with_shell(plan, shell, {"loss": loss, "layers": None, "gaps": ()})

    return edit


def with_sealed_shell(shell: str) -> Edit:
    """A shell without its gaps."""
    return lambda plan: _with_shell(plan, shell, {"gaps": ()})


def _with_shell(plan: Plan, shell: str, update: dict[str, object]) -> Plan:
    return plan.model_copy(update={"shell": {**plan.shell, shell: plan.shell[shell].model_copy(update=update)}})


def _for_each_part(run: str, change: Callable[[Element], Element]) -> Edit:
    return lambda plan: with_parts(plan, run, (change(part) for part in plan.run[run].parts))
