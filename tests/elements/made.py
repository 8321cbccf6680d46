"""Single parts for tests, checked as a project file is."""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import TypeAdapter, ValidationError

from sordino.bands import Array, Bands
from sordino.elements.element import Element
from sordino.elements.lined_box import Box, LinedBox
from sordino.elements.parts import Part
from sordino.physics.air.properties import STANDARD, Air

_PART: TypeAdapter[Element] = TypeAdapter(Part)


def made(kind: str, size: str = "160 mm", **fields: Any) -> Element:
    """A part as the file would state it, of the run's `size`."""
    return _PART.validate_python({"is": kind, "size": size, **fields})


def boxed(size: str = "200 mm", **fields: Any) -> LinedBox:
    """A lined box already given its statement."""
    part = made("lined box", size=size, box="quiet")
    assert isinstance(part, LinedBox)
    return part.model_copy(update={"build": Box.model_validate(fields)})


def refusal(kind: str, **fields: Any) -> str:
    """What is said against a part that can't be; an AssertionError if nothing is."""
    try:
        made(kind, **fields)
    except ValidationError as error:
        return str(error)
    raise AssertionError(f"{kind} {fields} was accepted")


def heads(part: Element, velocity: float, air: Air = STANDARD) -> float:
    """Pressure loss over the velocity pressure in the part's section, at a speed in m/s."""
    return part.pressure_loss(velocity * part.section.area, air) / (0.5 * air.density * velocity**2)


def noise(part: Element, flow: float) -> Bands:
    """The part's own noise at a flow, which it must have."""
    levels = part.own_noise(flow, STANDARD)
    assert levels is not None
    return levels


def total(levels: Bands | None) -> float:
    """Level of all bands together, dB."""
    assert levels is not None
    return float(10.0 * np.log10(np.nansum(10.0 ** (levels / 10.0))))


def rises_with_flow(part: Element, flows: tuple[float, ...] = (0.01, 0.03, 0.1, 0.3)) -> bool:
    """Whether the part's own noise grows from each flow to the next."""
    return bool(np.all(np.diff([total(part.own_noise(flow, STANDARD)) for flow in flows]) > 0.0))


def passes(pole: Array) -> Array:
    """Determinant of a four-pole, which is one where it is reciprocal."""
    return pole[..., 0, 0] * pole[..., 1, 1] - pole[..., 0, 1] * pole[..., 1, 0]
