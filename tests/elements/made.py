"""Single parts for tests, checked as a project file is."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
from pydantic import TypeAdapter, ValidationError

from small import FAN, ROOMS, written
from sordino.bands import Bands
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.parts import Part
from sordino.physics.air.properties import STANDARD, Air
from sordino.plan.statement import Plan

_PART: TypeAdapter[Element] = TypeAdapter(Part)


def made(kind: str, size: str = "160 mm", **fields: Any) -> Element:
    """A part as the file would state it, of the run's `size`."""
    return _PART.validate_python({"is": kind, "size": size, **fields})


def with_box(size: str = "200 mm", **fields: Any) -> Plan:
    """A plan whose one run of that size leads through the box `quiet`, stated by `fields`."""
    parts = 'parts = [{ is = "lined box", box = "quiet" }]'
    run = f'[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "{size}"\n{parts}\n'
    return written(f"{ROOMS}{FAN}\n{run}\n[box.quiet]\n" + "".join(f"{k} = {_toml(v)}\n" for k, v in fields.items()))


def boxed(size: str = "200 mm", **fields: Any) -> BuiltBox:
    """The box as the plan builds it into its run, its sound field not solved."""
    part = with_box(size, **fields).run["way"].parts[0]
    assert isinstance(part, BuiltBox)
    return part


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return json.dumps(value)


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
