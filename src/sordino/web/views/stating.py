"""What a test's form sends as the table that the file has for it, and back."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_origin

from pydantic.fields import FieldInfo

from sordino.errors import Refusal
from sordino.physics.signal.thirds import THIRDS
from sordino.plan.take import Take
from sordino.web.views.testing import CALIBRATOR, PLACES, fields_of, holds, inner_of, kinds, types

BARE = {
    **{"level": "dB", "full_scale": "dB", "gain": "dB", "self_noise": "dBA", "sweep_time": "s", "times": "s"},
    **{"from": "s", "to": "s", "box_pressure": "Pa", "speeds": "m/s"},
}
"""Unit of a figure that is typed without one, where there is one that people use."""
OF_TAKE = ("channel", "from", "to", "gain")
OCTAVES = (8, 9)
_FIGURE = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*([^\d\s,;+-][^\s,;]*)?")
Form = Mapping[str, str]


def table_of(kind: str, form: Form) -> dict[str, Any]:
    """The table that states a test; a Refusal if a reading that it needs is missing or can't be read."""
    if kind not in kinds():
        raise Refusal("there is no such test", "choose one of those listed")
    found: dict[str, Any] = {"is": kind}
    of, _, name = form.get("thing", "").partition(" ")
    if of in ("box", "run") and name:
        found[of] = name
    elif kind == "insertion loss":
        raise Refusal("it is not said what was measured", "choose the box or the run")
    for key, field in fields_of(kinds()[kind]):
        value = _value(key, field, form)
        if value is None and field.is_required():
            cure = "choose one" if key in PLACES else "choose its recording, or type levels"
            raise Refusal(f"“{key}” is missing, {field.description}", cure)
        if value is not None and key not in found:
            found[key] = value
    return found


def _value(key: str, of: FieldInfo, form: Form) -> Any:
    if holds(of, Take):
        return _readings(key, form)
    inner = inner_of(of)
    if inner is None:
        return _typed(key, of, form)
    found = {
        name: value for name, each in fields_of(inner) if (value := _typed(f"{key}.{name}", each, form)) is not None
    }
    if key == "calibrator":
        files = {of_it: _files(role, form) for role, of_it in CALIBRATOR.items()}
        given = {name: each[0] for name, each in files.items() if each}
        return given | found if given else None
    return found or None


def _typed(key: str, of: FieldInfo, form: Form) -> Any:
    text, last = form.get(_sent_as(key), "").strip(), key.rpartition(".")[2]
    if not text or (isinstance(of.default, str) and text == of.default):
        return None
    if float in types(of.annotation) and get_origin(of.annotation) is tuple:
        return _figures(text, BARE.get(last, ""))
    if last == "free":
        return _number(text)
    return _with_unit(text, BARE[last]) if last in BARE and key not in PLACES else text


def _sent_as(key: str) -> str:
    return f"place:{key}" if key in PLACES else key


def _figures(text: str, unit: str) -> list[str]:
    """Several figures with their units; one without has that of the next that says it."""
    found = _FIGURE.findall(text)
    if not found:
        raise Refusal(f"“{text[:40]}” is no list of figures", "type them with their unit, as 1.9 2.1 1.7 m/s")
    units = [said for _, said in found if said]
    return [f"{figure.replace(',', '.')} {said or (units[0] if units else unit)}".strip() for figure, said in found]


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}" if re.fullmatch(r"[-+]?\d+(?:\.\d+)?", text) else text


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise Refusal(f"“{text[:40]}” is no number", "type one, as 0.7") from None


def _readings(key: str, form: Form) -> Any:
    """Recordings of a reading, then the levels typed for it; one of them by itself."""
    found = [_recorded(file, form) for file in _files(key, form)]
    found += [_levels(line, key) for line in form.get(f"typed:{key}", "").splitlines() if line.strip()]
    return found[0] if len(found) == 1 else found or None


def _files(role: str, form: Form) -> list[str]:
    return [key.partition(":")[2] for key, value in form.items() if key.startswith("role:") and value == role]


def _recorded(file: str, form: Form) -> Any:
    more = {key: form.get(f"{key}:{file}", "").strip() for key in OF_TAKE}
    given = {key: _with_unit(text, BARE.get(key, "")) for key, text in more.items() if text}
    return {"file": file} | given if given else file


def _levels(line: str, key: str) -> dict[str, list[float]]:
    spaced = re.split(r"[\s;]+", line.strip())
    listed = spaced if len(spaced) > 1 else line.split(",")
    found = [_number(each.strip(",")) for each in listed if each.strip(", ")]
    if len(found) in OCTAVES:
        return {"octaves": found}
    if len(found) == THIRDS:
        return {"thirds": found}
    cure = f"type 8 from 63 Hz to 8 kHz, 9 from 31.5 Hz, or {THIRDS} one-third octaves from 25 Hz to 10 kHz"
    raise Refusal(f"“{key}” has {len(found)} levels in a line", cure)


def form_of(table: Mapping[str, Any]) -> dict[str, str]:
    """What a form would have sent for a stated test."""
    kind, found = str(table.get("is", "")), {}
    for of in ("box", "run"):
        if of in table:
            found["thing"] = f"{of} {table[of]}"
    for key, field in fields_of(kinds()[kind]):
        if key in table:
            found |= dict(_sent(key, field, table[key]))
    return found


def _sent(key: str, of: FieldInfo, value: Any) -> Iterator[tuple[str, str]]:
    if holds(of, Take):
        yield from _taken(key, value if isinstance(value, list) else [value])
    elif isinstance(value, Mapping):
        roles = {name: role for role, name in CALIBRATOR.items()} if key == "calibrator" else {}
        for name, each in value.items():
            yield (f"role:{each}", roles[name]) if name in roles else (f"{key}.{name}", _spelled(each))
    else:
        yield _sent_as(key), _spelled(value)


def _taken(key: str, takes: Iterable[Any]) -> Iterator[tuple[str, str]]:
    typed = []
    for take in takes:
        each = {"file": take} if isinstance(take, str) else dict(take)
        levels = each.get("octaves") or each.get("thirds")
        if isinstance(levels, list):
            typed.append(" ".join(f"{level:g}" for level in levels))
            continue
        yield f"role:{each.get('file', '')}", key
        yield from ((f"{name}:{each['file']}", _spelled(each[name])) for name in OF_TAKE if name in each)
    if typed:
        yield f"typed:{key}", "\n".join(typed)


def _spelled(value: Any) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
