"""What is done with variants on the page: keeping one, working with it, another name, and none of it any more."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from sordino.errors import PlanError, Refusal
from sordino.plan.lines import Path
from sordino.plan.overlay import overlaid
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.web.project import edit, passages
from sordino.web.project.desk import Desk
from sordino.web.project.hand import hand_of
from sordino.web.project.variant import KEYED, Difference, difference, named, rows, same, shared_out, variant_text

SHARED_TABLES, SHARED_VALUES = ("variant", "test"), ("title", "units")
RECENT = 8
"""Earlier states that a variant can be made against."""
LONGEST = 40
"""Signs in a name."""
Form = Mapping[str, str]


# texts


def kept(text: str, before: str, name: str) -> str:
    """The project as it was `before`, with what differs from it now as a variant; a Refusal if that can't be said."""
    base, now = _read(before), _read(text)
    found = difference(base, now)
    if why := why_not(found):
        raise Refusal(why, "undo that, or leave the project as it is now")
    back = _with_shared(before, text)
    written = variant_text(name, shared_out(base), found.change, hand_of(before))
    return passages.with_table(back, ("variant", name), written, found.change)


def opened(text: str, name: str) -> str:
    """The project as a variant has it; what it was is kept as a variant in its place, where that can be said."""
    data = _read(text)
    old, wanted = shared_out(data), shared_out(overlaid(shared_out(data), data["variant"][name]).data)
    for path, value in _edits(old, wanted, ()):
        text = _put(text, path, value)
    text = passages.without_table(text, ("variant", name))
    found = difference(wanted, old)
    if not same(shared_out(_read(text)), wanted):
        raise Refusal("this variant can't be written into the project by the page", "change the text itself")
    if found.cannot:
        return text
    former = free_name(f"before-{name}", tuple(data["variant"]))
    return passages.with_table(
        text, ("variant", former), variant_text(former, wanted, found.change, hand_of(text)), found.change
    )


def free_name(wanted: str, taken: tuple[str, ...]) -> str:
    """A name that no variant has."""
    names = (wanted if number == 1 else f"{wanted}-{number}" for number in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)


def why_not(found: Difference) -> str:
    """Why a difference can't be a variant, in words; empty if it can."""
    if found.cannot:
        places = ", ".join(named(path) or "something" for path in found.cannot[:3])
        return f"a variant can't leave out what the project states, as here {places}"
    return "" if found.change else "nothing differs"


def _edits(old: Any, new: Any, at: Path) -> Iterator[tuple[Path, Any]]:
    """Values to be written for one state to become another; None leaves one out."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in (*new, *(key for key in old if key not in new)):
            if key not in old or key not in new:
                yield (*at, key), new.get(key)
            elif not same(old[key], new[key]):
                yield from _edits(old[key], new[key], (*at, key))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new) and old and isinstance(old[0], dict):
        for place, (one, other) in enumerate(zip(old, new, strict=True)):
            if not same(one, other):
                yield from _edits(one, other, (*at, place))
    else:
        yield at, new


def _put(text: str, path: Path, value: Any) -> str:
    if value is None:
        return (
            passages.without_table(text, path)
            if all(isinstance(step, str) for step in path)
            else edit.without(text, path)
        )
    if (
        isinstance(value, dict)
        and len(path) < KEYED
        and value
        and all(isinstance(each, dict) for each in value.values())
    ):
        for key, each in value.items():
            text = edit.appended(text, _written((*path, key)), each)
        return text
    if isinstance(value, dict) and len(path) <= KEYED and edit.value_at(_read(text), path) is edit.MISSING:
        return edit.appended(text, _written(path), value)
    return edit.with_value(text, path, value)


def _written(path: Path) -> Path:
    return tuple(passages.written_key(str(step)) for step in path)


def _with_shared(before: str, text: str) -> str:
    """An earlier state with the variants, tests, title and units of now."""
    for kind in SHARED_TABLES:
        old, new = _read(before).get(kind, {}), _read(text).get(kind, {})
        for name in [name for name in old if not same(old[name], new.get(name))]:
            before = passages.without_table(before, (kind, name))
        for name in [name for name in new if not same(old.get(name), new[name])]:
            before = passages.with_table(before, (kind, name), passages.table_text(text, (kind, name)), new[name])
    old, new = _read(before), _read(text)
    for key in SHARED_VALUES:
        if key in new and new[key] != old.get(key):
            before = edit.with_value(before, (key,), new[key])
    return before


def _read(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


# deeds: the new text, and what was done


def keep(desk: Desk, form: Form) -> tuple[str, str]:
    """Keep what differs from an earlier state."""
    name = plain_name(form.get("name", ""), _names(desk))
    return kept(desk.text, text_since(desk, form.get("since", "saved")), name), f"kept as the variant {name}"


def work_with(desk: Desk, form: Form) -> tuple[str, str]:
    """Make a variant the project."""
    name = _known(desk, form)
    return opened(desk.text, name), f"work with the variant {name}"


def rename(desk: Desk, form: Form) -> tuple[str, str]:
    """Call a variant otherwise."""
    name = _known(desk, form)
    other = plain_name(form.get("name", ""), tuple(each for each in _names(desk) if each != name))
    words = f"the variant {name} is called {other}"
    return (desk.text if other == name else passages.renamed_table(desk.text, ("variant", name), other)), words


def remove(desk: Desk, form: Form) -> tuple[str, str]:
    """Leave a variant out."""
    name = _known(desk, form)
    return passages.without_table(desk.text, ("variant", name)), f"the variant {name} removed"


DEEDS: dict[str, Callable[[Desk, Form], tuple[str, str]]] = {
    "/variant/keep": keep,
    "/variant/open": work_with,
    "/variant/rename": rename,
    "/variant/remove": remove,
}


def plain_name(text: str, taken: tuple[str, ...]) -> str:
    """A name for a variant or a test as it is written; a Refusal if it can't be one."""
    name = "-".join(re.findall(r"[^\W_]+", text.strip().lower()))
    if not name:
        raise Refusal("it needs a name", "type a short one, as longer box")
    if len(name) > LONGEST:
        raise Refusal(f"the name has more than {LONGEST} signs", "take a shorter one")
    if name in taken:
        raise Refusal(f"there is a {name} already", "take another name, or remove that one first")
    return name


def _known(desk: Desk, form: Form) -> str:
    name = form.get("variant", "")
    if name not in _names(desk):
        raise Refusal("there is no such variant any more", "load the page again")
    return name


def _names(desk: Desk) -> tuple[str, ...]:
    found = _read(desk.text).get("variant", {})
    return tuple(found) if isinstance(found, dict) else ()


# what the page shows


def sinces(desk: Desk) -> list[tuple[str, str]]:
    """States that a variant can be made against: as a form sends them, and in words."""
    with desk.lock:
        steps = range(1, min(desk.at, RECENT) + 1)
        back = [(str(step), f"from “{desk.states[desk.at - step + 1].words}” on") for step in steps]
    saved = [("saved", "since it was saved")] if desk.unsaved and desk.saved else []
    now = shared_out(_read(desk.text))
    return [(key, words) for key, words in saved + back if not same(shared_out(_read(text_since(desk, key))), now)]


def text_since(desk: Desk, since: str) -> str:
    """The project in an earlier state; a Refusal if there is none."""
    with desk.lock:
        if since == "saved" and desk.saved:
            return desk.saved
        step = int(since) if since.isascii() and since.isdigit() and len(since) < 4 else 0
        if not 0 < step <= desk.at:
            raise Refusal("there is no such earlier state", "load the page again")
        return desk.states[desk.at - step].text


def context(desk: Desk, since: str) -> dict[str, Any]:
    """What the view of variants shows of them."""
    data, choices = _read(desk.text), sinces(desk)
    since = since if since in dict(choices) else choices[0][0] if choices else ""
    found = difference(_read(text_since(desk, since)), data) if since else Difference(change={})
    base = shared_out(_read(text_since(desk, since))) if since else {}
    return {
        "sinces": choices,
        "since": since,
        "differs": list(rows(base, found.change)),
        "why_not": why_not(found),
        "variants": _names(desk),
        "stated": [_shown(desk, data, name) for name in _names(desk)],
    }


def _shown(desk: Desk, data: dict[str, Any], name: str) -> dict[str, Any]:
    change = data["variant"][name]
    held = isinstance(change, dict)
    shared = shared_out(data)
    wanted = shared_out(overlaid(shared, change).data) if held else shared
    return {
        "name": name,
        "rows": list(rows(shared, change)) if held else [],
        "broken": _broken(desk, name),
        "lost": bool(difference(wanted, shared).cannot),
    }


def _broken(desk: Desk, name: str) -> str:
    try:
        plan_of(parsed(desk.text, desk.name), name)
    except PlanError as error:
        return " ".join(f"{fault.problem} {fault.cure}".strip() for fault in error.faults[:2])
    return ""
