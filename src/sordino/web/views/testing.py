"""A test as a form: what is asked for each kind, from the statement of the test itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from sordino.plan.statement import Plan
from sordino.plan.take import Take
from sordino.plan.test import Chain, Test
from sordino.quantities import Statement

QUESTIONS = {
    "insertion loss": "What does a box or a run take from the sound?",
    "vent": "How much comes through the vent alone?",
    "level difference": "How much goes from room to room?",
    "room noise": "How loud are the fans in the room?",
    "reverberation": "How long does the room ring?",
    "air flow": "How much air does a run carry?",
}
PLACES = {"box": "box", "run": "run", "room": "room", "from": "room", "to": "room", "mode": "mode"}
"""Keys of a test that name a thing of the project, and the table that it stands in."""
EXAMPLES = {
    **{"calibrator.level": "94 dB", "full_scale": "120 dB", "self_noise": "18 dBA", "sweep_time": "10 s"},
    **{"traverse.speeds": "1.9 2.1 1.7 m/s", "traverse.size": "200 x 100 mm", "traverse.free": "1"},
    **{"bag.volume": "120 L", "bag.times": "4.1 4.0 4.3 s", "box_pressure": "8 Pa", "from": "5 s", "to": "35 s"},
    **{"gain": "0 dB"},
}
PLAYED = ("signal", "sweep_time")
IDLE = {"room noise": PLAYED, "reverberation": ("signal",)}
"""Of what all tests share, what says nothing for a kind."""
MICROPHONE = "The microphone and its level"
CALIBRATOR = {"calibrator": "file", "calibrator, at the end": "after"}
"""What a recording can be beside a reading, and the key of the calibrator that it becomes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Blank:
    """One thing to be typed or chosen, by the key under which a form sends it."""

    key: str
    label: str
    help: str
    needed: bool = False
    options: tuple[tuple[str, str], ...] = ()
    example: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Role:
    """One reading of a test."""

    key: str
    help: str
    needed: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """All that a test of one kind asks for."""

    kind: str
    question: str
    about: str
    things: tuple[Blank, ...]
    roles: tuple[Role, ...]
    groups: tuple[tuple[str, tuple[Blank, ...]], ...]
    """What else may be said, by what it belongs to."""


def kinds() -> dict[str, type[Statement]]:
    """Statements of tests by their kind."""
    found = {get_args(each.model_fields["kind"].annotation)[0]: each for each in get_args(get_args(Test)[0])}
    return {kind: found[kind] for kind in sorted(found, key=list(QUESTIONS).index)}


def asked(kind: str, plan: Plan, files: tuple[str, ...] = ()) -> Asked:
    """What a test of a kind asks for in a project; `files` are texts beside it that may calibrate a microphone."""
    model = kinds()[kind]
    own = [(key, of) for key, of in fields_of(model) if key not in _chained(model)]
    return Asked(
        kind=kind,
        question=QUESTIONS[kind],
        about=str(model.__doc__ or ""),
        things=tuple(_things(own, plan)),
        roles=tuple(
            Role(key=key, help=str(of.description), needed=of.is_required()) for key, of in own if holds(of, Take)
        ),
        groups=tuple(_groups(model, own, files)),
    )


def fields_of(model: type[Statement]) -> Iterator[tuple[str, FieldInfo]]:
    """Fields by the key that the file has for them; what all tests share comes last."""
    named = [(of.alias or name, of) for name, of in model.model_fields.items() if name != "kind"]
    shared = _chained(model)
    yield from (pair for pair in named if pair[0] not in shared)
    yield from (pair for pair in named if pair[0] in shared)


def _chained(model: type[Statement]) -> tuple[str, ...]:
    return tuple(Chain.model_fields) if issubclass(model, Chain) else ()


def holds(of: FieldInfo, kind: type) -> bool:
    return kind in types(of.annotation)


def types(annotation: Any) -> Iterator[Any]:
    yield annotation
    for inner in get_args(annotation):
        yield from types(inner)


def inner_of(of: FieldInfo) -> type[Statement] | None:
    """The statement that a field holds, a reading aside."""
    found = [each for each in types(of.annotation) if isinstance(each, type) and issubclass(each, Statement)]
    return found[0] if found and found[0] is not Take else None


def _things(own: list[tuple[str, FieldInfo]], plan: Plan) -> Iterator[Blank]:
    keys = dict(own)
    if "box" in keys and "run" in keys:  # one of them
        options = [(f"{kind} {name}", f"{kind} {name}") for kind in ("box", "run") for name in getattr(plan, kind)]
        yield Blank(key="thing", label="of", help="the box, or the whole run", needed=True, options=tuple(options))
    for key, of in own:
        if key in PLACES and not ("box" in keys and key in ("box", "run")):
            names = tuple((name, _called(plan, PLACES[key], name)) for name in getattr(plan, PLACES[key]))
            needed = of.is_required() or (key == "mode" and len(names) > 1)
            yield Blank(key=f"place:{key}", label=key, help=str(of.description), needed=needed, options=names)


def _called(plan: Plan, kind: str, name: str) -> str:
    return plan.place_name(name) if kind == "room" else name


def _groups(
    model: type[Statement], own: list[tuple[str, FieldInfo]], files: tuple[str, ...]
) -> Iterator[tuple[str, tuple[Blank, ...]]]:
    plain = []
    for key, of in own:
        inner = inner_of(of)
        if inner is not None:
            yield str(of.description), tuple(_blank(f"{key}.{name}", each) for name, each in fields_of(inner))
        elif key not in PLACES and not holds(of, Take):
            plain.append(_blank(key, of))
    if plain:
        yield "Or", tuple(plain)
    kind = get_args(model.model_fields["kind"].annotation)[0]
    shared = [(key, of) for key, of in fields_of(model) if key in _chained(model) and key not in IDLE.get(kind, ())]
    if played := [(key, of) for key, of in shared if key in PLAYED]:
        yield "What the loudspeaker played", tuple(_shared(played, files))
    if heard := [(key, of) for key, of in shared if key not in PLAYED]:
        yield MICROPHONE, tuple(_shared(heard, files))


def _shared(shared: list[tuple[str, FieldInfo]], files: tuple[str, ...]) -> Iterator[Blank]:
    for key, of in shared:
        inner = inner_of(of)
        if inner is None:
            blank = _blank(key, of)
            yield replace(blank, options=tuple((name, name) for name in files)) if key == "microphone" else blank
        else:
            yield from (
                replace(_blank(f"{key}.{name}", each), label=f"{key}: {name}")
                for name, each in fields_of(inner)
                if name not in CALIBRATOR.values()
            )


def _blank(key: str, of: FieldInfo) -> Blank:
    chosen = next((get_args(each) for each in types(of.annotation) if get_origin(each) is Literal), ())
    label = key.rpartition(".")[2].replace("_", " ")
    options = tuple((str(each), str(each)) for each in chosen)
    return Blank(key=key, label=label, help=_plainly(of), options=options, example=EXAMPLES.get(key, ""))


def _plainly(of: FieldInfo) -> str:
    return str(of.description).replace("`sordino signal`", "the signals below")
