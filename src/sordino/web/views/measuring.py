"""What is done with tests on the page: stating one from a form, leaving one out, and the signals that they need."""

from __future__ import annotations

import math
import tomllib
from collections import defaultdict
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import quote

import jinja2
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from sordino.errors import PlanError, Refusal
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan
from sordino.report.measured_sheet import CAUTION, OF_KIND, STEPS, instructions
from sordino.report.signals import NAMES, signals
from sordino.units import UnitError
from sordino.web.project import edit, passages
from sordino.web.project.desk import Desk
from sordino.web.project.keeping import free_name, plain_name
from sordino.web.solved.work import look
from sordino.web.views import beyond
from sordino.web.views.stating import form_of, table_of
from sordino.web.views.testing import CALIBRATOR, MICROPHONE, QUESTIONS, asked, kinds

SECONDS = (3.0, 60.0)
TAKEN, RATE = 10.0, 48000
"""Length of the sweep that is offered, s, and samples a second."""
TEXTS = (".txt", ".csv", ".cal", ".frd")
"""Files that may hold the calibration of a microphone."""
FOLDER, MOST = "signals", 100
Form = Mapping[str, str]
Deed = tuple[str, str, str]
"""The new text, what was done, and the view that shows it."""


def state(desk: Desk, form: Form) -> Deed:
    """State a test, or state it anew."""
    was, stated = form.get("was", ""), _stated(desk)
    name = plain_name(form.get("name", ""), tuple(each for each in stated if each != was))
    table = table_of(form.get("kind", ""), form)
    _check(table)
    text = passages.without_table(desk.text, ("test", was)) if was in stated else desk.text
    text = edit.appended(text, ("test", passages.written_key(name)), table)
    return text, f"the test {name} stated", f"/measure?test={quote(name)}"


def _check(table: dict[str, Any]) -> None:
    """Say what can't be in words for who fills in a form, before the whole project is read."""
    if table["is"] == "air flow" and not {"traverse", "bag", "box_pressure"} & set(table):
        raise Refusal("nothing is measured here", "type readings of an anemometer, times of a bag, or a pressure")


def remove(desk: Desk, form: Form) -> Deed:
    """Leave a test out."""
    name = form.get("test", "")
    if name not in _stated(desk):
        raise Refusal("there is no such test any more", "load the page again")
    return passages.without_table(desk.text, ("test", name)), f"the test {name} removed", "/measure"


def count_in(desk: Desk, form: Form) -> Deed:
    """Have what a test gave counted in place of what is predicted."""
    from sordino.measure.measurement import measure

    name, source = form.get("test", ""), parsed(desk.text, desk.name)
    if name not in _stated(desk):
        raise Refusal("there is no such test any more", "load the page again")
    found = measure(look(desk.text, desk.name).found.plan, name, desk.folder)
    if found.paste is None:
        raise Refusal("nothing of this test is sure enough to be counted", "measure once more, with less noise around")
    table, line = found.paste
    place = (*table.split(".", 1), "measured")
    before, value = edit.value_at(source.data, place), tomllib.loads(line)["measured"]
    both = (
        before | value if isinstance(before, dict) and isinstance(value, dict) and found.kind == "air flow" else value
    )
    return edit.with_value(desk.text, place, both), f"{place[1]} counted as measured", f"/measure?test={quote(name)}"


DEEDS: dict[str, Callable[[Desk, Form], Deed]] = {
    "/test/state": state,
    "/test/remove": remove,
    "/test/count": count_in,
}


def _stated(desk: Desk) -> dict[str, Any]:
    found = tomllib.loads(desk.text).get("test", {})
    return found if isinstance(found, dict) else {}


def written(folder: Path, seconds: float, rate: int) -> str:
    """Write signals and sheet into a folder of their own in the project's; its name."""
    if not SECONDS[0] <= seconds <= SECONDS[1]:
        raise Refusal("there is no such signal", f"take a sweep of {SECONDS[0]:g} to {SECONDS[1]:g} s")
    made = dict(signals(seconds, rate))
    for number in range(1, MOST):
        place = folder / (FOLDER if number == 1 else f"{FOLDER}-{number}")
        if not (place.exists() or place.is_symlink()):
            place.mkdir()
            for name, content in made.items():
                (place / name).write_bytes(content)
            return place.name
        if not place.is_symlink() and all(_holds(place / name, content) for name, content in made.items()):
            return place.name
    raise Refusal("there are too many folders of signals", "remove some")


def _holds(path: Path, content: bytes) -> bool:
    return path.is_file() and path.stat().st_size == len(content) and path.read_bytes() == content


class Measuring:
    """Signals and the sheet, on demand."""

    def __init__(self, desk: Desk, templates: jinja2.Environment) -> None:
        self.desk, self.templates = desk, templates

    def routes(self) -> list[Route]:
        """Where they are."""
        return [Route("/signals", self._signals, methods=["POST"]), Route("/measuring.txt", self._sheet)]

    async def _signals(self, request: Request) -> Response:
        form = await request.form()
        try:
            place = await run_in_threadpool(written, self.desk.folder, _seconds(str(form.get("seconds", ""))), RATE)
        except (Refusal, OSError) as error:
            words = f"{error.strerror if isinstance(error, OSError) else error}."
            return HTMLResponse(self.templates.get_template("part_refused.html").render(words=words), 422)
        return HTMLResponse(self.templates.get_template("part_signals.html").render(place=place, names=NAMES))

    async def _sheet(self, request: Request) -> Response:
        return PlainTextResponse(instructions(TAKEN, RATE))


def _seconds(text: str) -> float:
    try:
        return float(text.strip().removesuffix("s"))
    except ValueError:
        return math.nan


def context(desk: Desk, plan: Plan, query: Callable[[str], str], again: Form) -> dict[str, Any]:
    """What the view of measurements shows; `again` is a form that was refused."""
    stated, chosen = _stated(desk), query("test")
    was = again.get("was", "") or query("edit")
    was = was if was in stated else ""
    kind = again.get("kind", "") or (str(stated[was].get("is", "")) if was else query("kind"))
    form = dict(again) if again.get("kind") else form_of(stated[was]) if was else {}
    found: dict[str, Any] = {
        "most": beyond.MOST,
        "questions": [(kind, QUESTIONS[kind], str(model.__doc__)) for kind, model in kinds().items()],
        "tests": [_told(plan, name, table) for name, table in stated.items()],
        "chosen": chosen if chosen in stated else "",
        "before": STEPS[0],
        "caution": CAUTION,
        "signals": NAMES,
        "recordings": beyond.recordings(desk.folder),
        "form": None,
    }
    if kind not in kinds():
        return found
    files = dict.fromkeys([*found["recordings"], *(key[5:] for key in form if key.startswith("role:"))])
    return found | {
        "form": asked(kind, plan, texts(desk.folder)),
        "steps": OF_KIND[kind],
        "typed": defaultdict(str, form),
        "metered_roles": [key[6:] for key, text in form.items() if key.startswith("typed:") and text],
        "was": was,
        "files": tuple(files),
        "beside": tuple(CALIBRATOR) if kind != "air flow" else (),
        "microphone": MICROPHONE,
        "name": form.get("name") or was or free_name(kind.replace(" ", "-"), tuple(stated)),
    }


def texts(folder: Path) -> tuple[str, ...]:
    """Names of texts in a folder that may calibrate a microphone."""
    found = (path.name for path in folder.iterdir() if path.suffix.lower() in TEXTS and path.is_file())
    return tuple(sorted(found))


def _told(plan: Plan, name: str, table: Mapping[str, Any]) -> dict[str, Any]:
    """A stated test in words, and whether the form can show all of it."""
    kind = str(table.get("is", ""))
    places = [str(table[key]) for key in ("box", "run", "room", "from", "to") if key in table]
    try:
        whole = kind in kinds() and _alike(table_of(kind, form_of(table)), table)
    except (Refusal, UnitError, PlanError, KeyError, TypeError, AttributeError):
        whole = False
    words = " to ".join(plan.place_name(each) if each in plan.room else each for each in places)
    return {"name": name, "kind": kind, "of": words, "whole": whole}


def _alike(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether a form gives the readings of a table, units aside."""
    return set(one) == set(other) and all(
        _listed(one[key]) == _listed(other[key]) for key in one if key != "calibrator"
    )


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]
