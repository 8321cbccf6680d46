"""Where an objection of the model stands in the data, and what the model would take there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sordino.plan.lines import Path


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """A path as the user wrote it, and what the model says of it."""

    path: Path
    model: type[BaseModel] | None = None
    """The model of the table that holds the last key."""
    choice: Path | None = None
    """Path of the value that may be one of several things, if the objection came from one branch of it."""
    branch: str = ""
    tags: tuple[str, ...] = ()
    """Kinds that the value may say it is."""


def place(model: type[BaseModel], loc: Sequence[str | int]) -> Place:
    """Follow an objection's steps through the model, dropping those that name branches and not keys."""
    options: list[Any] = [model]
    path: Path = ()
    holder: type[BaseModel] | None = None
    choice: Path | None = None
    branch = ""
    for step in loc:
        if len(options) > 1:
            tagged = [option for option in options if step in kinds_of(option)]
            if not tagged and choice is None:
                choice, branch = path, str(step)
            options = tagged or [option for option in options if getattr(option, "__name__", "") == step]
        elif step != "[key]":
            holder = options[0] if options and _is_model(options[0]) else None
            path, options = (*path, step), _after(options[0] if options else None, step)
    tags = tuple(kind for option in options for kind in kinds_of(option))
    return Place(path=path, model=holder, choice=choice, branch=branch, tags=tags)


def kinds_of(option: Any) -> tuple[str, ...]:
    """The words by which a model of a tagged choice is told apart; none if it is no such model."""
    if not _is_model(option):
        return ()
    for field in option.model_fields.values():
        if field.alias == "is" and get_origin(field.annotation) is Literal:
            return tuple(str(word) for word in get_args(field.annotation))
    return ()


def keys_of(model: type[BaseModel]) -> list[str]:
    """The keys a table of this model may have."""
    return [field.alias or name for name, field in model.model_fields.items()]


def example(model: type[BaseModel], key: str) -> str | None:
    """A value the key may have, as it is written in the file; None if the model gives no example."""
    schema = _schema(model)
    return _sample(schema.get("properties", {}).get(key, {}), schema.get("$defs", {}))


@lru_cache(maxsize=64)
def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()


def _sample(schema: dict[str, Any], defs: dict[str, Any], depth: int = 0) -> str | None:
    if "$ref" in schema and depth < 4:
        return _sample(defs.get(schema["$ref"].rsplit("/", 1)[-1], {}), defs, depth + 1)
    for words in ("examples", "enum"):
        if schema.get(words):
            return written(schema[words][0])
    if "const" in schema:
        return written(schema["const"])
    for option in schema.get("anyOf", []):
        sample = _sample(option, defs, depth + 1)
        if sample is not None:
            return sample
    plain = {"string": '"..."', "integer": "1", "number": "1.0", "boolean": "true", "array": "[...]"}
    return plain.get(str(schema.get("type")))


def written(value: Any) -> str:
    """A plain value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}'" if '"' in value else f'"{value}"'
    if isinstance(value, list | tuple):
        return f"[{', '.join(written(item) for item in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {written(item)}' for key, item in value.items())} }}"
    return str(value)


def _is_model(option: Any) -> bool:
    return isinstance(option, type) and issubclass(option, BaseModel)


def _after(option: Any, step: str | int) -> list[Any]:
    """What may stand one step further in."""
    if _is_model(option):
        field = _field(option, str(step))
        return _options(field.annotation) if field else []
    arguments = get_args(option)
    if get_origin(option) is dict:
        return _options(arguments[1])
    if get_origin(option) is tuple and arguments[-1:] != (Ellipsis,):
        return _options(arguments[step]) if isinstance(step, int) and step < len(arguments) else []
    return _options(arguments[0]) if get_origin(option) in (tuple, list) else []


def _field(model: type[BaseModel], key: str) -> FieldInfo | None:
    found = (field for name, field in model.model_fields.items() if key in (field.alias, name))
    return next(found, None)


def _options(annotation: Any) -> list[Any]:
    """The things an annotation allows, without None and without what only annotates."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _options(get_args(annotation)[0])
    if origin is Union or str(origin) == "<class 'types.UnionType'>":
        return [found for part in get_args(annotation) for found in _options(part) if found is not type(None)]
    return [annotation]
