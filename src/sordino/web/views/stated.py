"""What the statements say of a place in the project: its help, what may be chosen there, what stands if nothing is."""

from __future__ import annotations

import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic.json_schema import WithJsonSchema

from sordino.names import OnRecord
from sordino.plan.lines import Path
from sordino.plan.statement import Plan

YES, NO = "true", "false"


@dataclass(frozen=True, kw_only=True, slots=True)
class Stated:
    """One place as its statement describes it."""

    help: str = ""
    options: tuple[str, ...] = ()
    """All that may stand there, if that is a short list."""
    names: tuple[str, ...] = ()
    """Names on record that may stand there."""
    default: Any = None


def stated(data: Any, path: Path) -> Stated:
    """What is said of a place; empty if the statements don't know it."""
    kinds: tuple[Any, ...] = (Plan,)
    info: FieldInfo | None = None
    for step in path:
        kinds = tuple(_flat(kinds))
        own = _field(kinds, step, data)
        info = own or info
        kinds = (_of(own),) if own is not None else tuple(_inside(kinds, step))
        data = _value(data, step)
    return _told(info, tuple(_flat(kinds)), own=bool(path) and isinstance(path[-1], str))


def _of(info: FieldInfo) -> Any:
    """A field's type with what is noted of it."""
    kind: Any = info.annotation
    return Annotated[(kind, *info.metadata)] if info.metadata else kind


def _flat(kinds: tuple[Any, ...]) -> Iterator[Any]:
    """The types that may stand in a place, unions taken apart; notes stay with their type."""
    for kind in kinds:
        if get_origin(kind) in (Union, types.UnionType):
            yield from _flat(get_args(kind))
        elif get_origin(kind) is Annotated and get_origin(get_args(kind)[0]) in (Union, types.UnionType):
            first, *notes = get_args(kind)
            yield from _flat((first,))
            yield from (Annotated[str, note] for note in notes if isinstance(note, WithJsonSchema))
        elif kind is not type(None):
            yield kind


def _bare(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is Annotated else kind


def _field(kinds: tuple[Any, ...], step: str | int, data: Any) -> FieldInfo | None:
    """The field of that name, in the statement whose kind the table says first."""
    models = [model for model in map(_bare, kinds) if isinstance(model, type) and issubclass(model, BaseModel)]
    chosen = [model for model in models if _is(model, data)] or models
    for model in chosen:
        for name, info in model.model_fields.items():
            if step in (info.alias, name):
                return info
    return None


def _is(model: type[BaseModel], data: Any) -> bool:
    kind = model.model_fields.get("kind")
    return kind is not None and isinstance(data, dict) and data.get("is") in get_args(kind.annotation)


def _inside(kinds: tuple[Any, ...], step: str | int) -> Iterator[Any]:
    for kind in map(_bare, kinds):
        inner = get_args(kind)
        if get_origin(kind) is dict and isinstance(step, str):
            yield inner[1]
        elif get_origin(kind) in (tuple, list) and isinstance(step, int) and inner:
            yield inner[min(step, len(inner) - 1)] if inner[-1] is not Ellipsis else inner[0]


def _value(data: Any, step: str | int) -> Any:
    try:
        return data[step]
    except (KeyError, IndexError, TypeError):
        return None


def _told(info: FieldInfo | None, kinds: tuple[Any, ...], own: bool) -> Stated:
    if info is None:
        return Stated()
    bare = [_bare(kind) for kind in kinds]
    options: tuple[str, ...] = ()
    if bare == [bool]:
        options = (YES, NO)
    elif bare and all(get_origin(kind) is Literal for kind in bare):
        options = tuple(str(each) for kind in bare for each in get_args(kind))
        options = options if len(options) > 1 else ()
    notes = [note for kind in kinds if get_origin(kind) is Annotated for note in get_args(kind)[1:]]
    names = {name: None for note in notes if isinstance(note, OnRecord) for name in note.names().values()}
    typed = next((_description(note) for note in notes if isinstance(note, WithJsonSchema)), "")
    default = info.get_default(call_default_factory=False) if own and not info.is_required() else None
    return Stated(help=info.description or typed, options=options, names=tuple(names), default=default)


def _description(note: WithJsonSchema) -> str:
    return str((note.json_schema or {}).get("description", ""))
