"""One box beside another in the same place: loss per band, pressure, mass and length, or why it does not fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sordino.assess.box_loss import counted
from sordino.assess.boxes import field_known, field_of
from sordino.bands import Bands
from sordino.elements.box import Box
from sordino.elements.box_field import CASES, HEADLINE, LIVE, BoxField
from sordino.elements.box_layout import Clash, Layout
from sordino.elements.box_mass import box_mass
from sordino.elements.built_box import BuiltBox
from sordino.errors import OutOfRange
from sordino.physics.air.properties import Air
from sordino.physics.wave.refine import COARSER
from sordino.units import System


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxChange:
    """One change and what it does; without figures if it does not fit, and then why."""

    words: str
    loss: Bands | None = None
    """Change of the loss through the passage, dB."""
    counted: Bands | None = None
    """Change of what the box counts for beside what goes round it, dB."""
    pressure: float = float("nan")
    """Pa more at the same flow."""
    mass: float = float("nan")
    """kg more."""
    path: float = float("nan")
    """Air path longer by, m."""
    outside: tuple[float, float, float] = (0.0, 0.0, 0.0)
    """Length, width and height greater by, m."""
    clash: str = ""
    frame: bool = False
    """Whether it only settles what is not known of the fibre's frame."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """A box with its field on the grid on which changes are compared."""

    built: BuiltBox
    air: Air
    flow: float
    loss: Bands
    counted: Bands
    pressure: float
    mass: float
    system: System = "metric"
    """Units in which a clash is told."""


def coarse_field(built: BuiltBox, box: Box, air: Air) -> BoxField:
    """The field of `box` in the place of `built`, in the headline's brackets on the comparing grid."""
    return field_of(box, built.section, air, COARSER * LIVE, CASES[:HEADLINE])


def coarse_known(built: BuiltBox, box: Box, air: Air) -> bool:
    """Whether that field has been solved before."""
    return field_known(box, built.section, air, COARSER * LIVE, CASES[:HEADLINE]) is not None


def known(built: BuiltBox, field: BoxField, air: Air, flow: float, system: System = "metric") -> Known:
    """What is compared of a box with its field, at a flow in m3/s."""
    solved = built.model_copy(update={"solved": field})
    loss = solved.attenuation(air)
    return Known(
        built=solved,
        air=air,
        flow=flow,
        loss=loss,
        counted=counted(loss, solved.ceiling()),
        pressure=solved.pressure_loss(flow, air),
        mass=box_mass(built.build, built.layout).whole,
        system=system,
    )


def changed(base: Known, words: str, change: Callable[[Box, Layout], Box]) -> BoxChange:
    """What a change does to a box, or why the changed box can't be laid out."""
    try:
        box = change(base.built.build, base.built.layout)
        built = rebuilt(base.built, box)
        found = known(built, coarse_field(built, box, base.air), base.air, base.flow)
    except Clash as clash:
        return BoxChange(words=words, clash="; ".join(clash.shown(base.system)))
    except OutOfRange as error:
        return BoxChange(words=words, clash=str(error))
    return difference(base, found, words)


def rebuilt(built: BuiltBox, box: Box) -> BuiltBox:
    """Another box in the same place; not a copy, which would keep the old layout."""
    return BuiltBox.model_construct(
        kind=built.kind, name=built.name, box=built.box, size=built.size, within=built.within, build=box
    )


def difference(base: Known, found: Known, words: str) -> BoxChange:
    """One box against another."""
    return BoxChange(
        words=words,
        loss=found.loss - base.loss,
        counted=found.counted - base.counted,
        pressure=found.pressure - base.pressure,
        mass=found.mass - base.mass,
        path=found.built.path_length - base.built.path_length,
        outside=_grown(base.built, found.built),
    )


def _grown(before: BuiltBox, after: BuiltBox) -> tuple[float, float, float]:
    """Length, width and height more, m; a shallow box lies on its side in its layout."""
    one, other = before.layout.prism, after.layout.prism
    length, width, height = (other.length - one.length, other.width - one.width, other.height - one.height)
    return (length, height, width) if before.build.family == "shallow" else (length, width, height)
