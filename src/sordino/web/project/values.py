"""What a statement is written as: plain values by their place in the project, each with the unit that people use."""

from __future__ import annotations

from collections.abc import Iterator
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sordino.elements.box import Box
from sordino.plan.lines import Path
from sordino.quantities import Size, kind_of
from sordino.units import System, show
from sordino.web.project.edit import MISSING, value_at
from sordino.web.project.written import exactly

LENGTHS = ("length", "length from zero", "any length")
FITTED = ("size", "within", "name", "solved", "build", "share")
"""Fields of a part that the plan fills in."""


def type_of(of: FieldInfo) -> Any:
    """The type of a field with all that its reader needs."""
    return Annotated[of.annotation, *of.metadata] if of.metadata else of.annotation


def plain(of: Any, value: Any, units: System) -> Any:
    """A value of a type as it is written."""
    if get_origin(of) in (Union, UnionType):
        return plain(next((each for each in get_args(of) if _takes(each, value)), None), value, units)
    if isinstance(value, Size):
        return value.shown(units)
    if isinstance(value, BaseModel):
        return table(value, units)
    if isinstance(value, tuple | list):
        return [plain(inner, each, units) for inner, each in zip(_inner(of, len(value)), value, strict=True)]
    if isinstance(value, dict):
        inner = (*get_args(of), None, None)[1]
        return {key: plain(inner, each, units) for key, each in value.items()}
    return _number(kind_of(of), value, units) if isinstance(value, float) else value


def _takes(of: Any, value: Any) -> bool:
    """Whether one of several types is that of a value."""
    bare = get_args(of)[0] if get_origin(of) is Annotated else of
    kind = get_origin(bare) or bare
    return isinstance(kind, type) and isinstance(value, kind)


def _inner(of: Any, count: int) -> tuple[Any, ...]:
    bare = get_args(of)[0] if get_origin(of) is Annotated else of
    inner = get_args(bare)
    if len(inner) == 2 and inner[1] is Ellipsis:
        return (inner[0],) * count
    return inner if len(inner) == count else (None,) * count


def _number(kind: str, value: float, units: System) -> Any:
    if not kind:
        return value
    if kind in LENGTHS:
        return show(value, "length", units)
    return f"{100.0 * value:.4g} %" if kind == "fraction" else exactly(value, kind, units)


def table(model: BaseModel, units: System, but: tuple[str, ...] = ()) -> dict[str, Any]:
    """A statement as a table that holds what is not left to its defaults."""
    found = {}
    for name, of in type(model).model_fields.items():
        value = getattr(model, name, None)
        if name not in but and value is not None and (of.is_required() or value != of.default):
            found[of.alias or name] = plain(type_of(of), value, units)
    return found


def changed_values(
    at: Path, before: BaseModel, after: BaseModel, data: Any, units: System, but: tuple[str, ...] = ()
) -> Iterator[tuple[Path, Any]]:
    """What must be written for one statement to become another; None leaves a key out.

    `data` is the whole project as it is written: of a table that does not stand there yet, all is written.
    """
    for name, of in type(after).model_fields.items():
        old, new, key = getattr(before, name, None), getattr(after, name, None), (*at, of.alias or name)
        if name in but or old == new:
            continue
        if isinstance(new, BaseModel) and type(old) is type(new) and value_at(data, key) is not MISSING:
            yield from changed_values(key, old, new, data, units)  # type: ignore[arg-type]  # both are of that type
        else:
            yield key, None if new is None or new == () else plain(type_of(of), new, units)


def box_values(key: str, before: Box, after: Box, data: Any, units: System) -> dict[Path, Any]:
    """The same of a box."""
    return dict(changed_values(("box", key), before, after, data, units))
