"""What stands on each view of the page, by its path: the name of a template and all that it shows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, parse_qsl, unquote, urlencode, urlsplit

from sordino.assess.box_answer import standing
from sordino.assess.finding import Finding
from sordino.elements.box_field import LIVE
from sordino.errors import PlanError
from sordino.report.verdict import summary
from sordino.units import System
from sordino.web.begin.answers import SIDES, SIZES, SPACES, SPARE, USES, in_units
from sordino.web.project import keeping
from sordino.web.project.desk import Desk, Move
from sordino.web.project.mending import Mending, mending
from sordino.web.project.unsaved import Unsaved
from sordino.web.solved.jobs import Jobs
from sordino.web.solved.work import Bench, Looked, broken_variants
from sordino.web.views import drawn, measuring, telling
from sordino.web.views.cures import Chest
from sordino.web.views.fields import KINDS, TITLES, Field, fields
from sordino.web.views.outcome import Outcome, Trial, outcome
from sordino.web.views.telling import Told

View = tuple[str, dict[str, Any]]
PICTURED = 125.0
"""The frequency at which a box's sound field is shown first, Hz."""


STEP = 5.0
"""From one frequency that can be chosen to the next, Hz."""
PAUSE = 1.0
"""Seconds without a change after which the usual fields are solved."""


class NoView(LookupError):
    """A path that leads to no view."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """How a view is asked for: its path with its query, the tab, the width, and what was typed but not taken."""

    at: str
    tab: str = ""
    narrow: bool = False
    refused: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    """By field: what was typed, and why it was not taken."""
    notice: str = ""
    stale: tuple[Move, ...] = ()
    again: Mapping[str, str] = field(default_factory=dict)
    """The form that a stale tab may send again."""
    conflict: bool = False
    said: str = ""
    """What was done, or why a drag was not taken."""
    kind: str = ""
    """Which of these: saved, done or refused."""

    @property
    def path(self) -> str:
        """Without the query."""
        return unquote(urlsplit(self.at).path)

    def query(self, name: str, default: str = "") -> str:
        """One value of the query."""
        return parse_qs(urlsplit(self.at).query).get(name, [default])[0]


@dataclass
class Page:
    """All that the views are made from."""

    desk: Desk
    bench: Bench
    jobs: Jobs
    unsaved: Unsaved
    chest: Chest = field(default_factory=Chest)
    trial: Trial | None = None
    """What was tried last."""

    def view(self, asked: Asked) -> View:
        """The view at a path; a NoView if there is none."""
        steps = [step for step in asked.path.split("/") if step]
        if self.desk.empty:
            trouble = self.desk.trouble
            return self.unread(asked, trouble) if trouble is not None else self._questions(asked)
        looked = self.looked()
        frame = self.frame(asked, looked)
        if not steps:
            return "whole.html", frame | self._whole(looked, asked)
        if steps[0] in KINDS and len(steps) == 2:
            return self._thing(steps[0], steps[1], looked, asked, frame)
        if steps == ["file"]:
            return "file.html", frame | self._file(looked, asked)
        if steps == ["compare"]:
            return "compare.html", frame | keeping.context(self.desk, asked.query("since"))
        if steps == ["build"]:
            return "build.html", frame
        if steps == ["measure"]:
            return "measure.html", frame | measuring.context(self.desk, looked.plan, asked.query, asked.again)
        raise NoView(asked.path)

    def looked(self, variant: str | None = None) -> Looked:
        """The project as it is now, assessed."""
        return self.bench.looked(self.desk.text, self.desk.name, variant)

    def follow(self) -> None:
        """Let the usual fields of what has only quick ones be solved apart."""
        if self.desk.empty:
            return
        looked = self.looked()
        if looked.waiting and self.desk.quiet > PAUSE:
            self.jobs.follow(self.desk.text, self.desk.name, looked.waiting, LIVE)

    def frame(self, asked: Asked, looked: Looked | None = None) -> dict[str, Any]:
        """What stands round every view."""
        found = looked.found if looked is not None else None
        return {
            "desk": self.desk,
            "unsaved": self.unsaved,
            "number": self.desk.number,
            "asked": asked,
            "jobs": self.jobs,
            "looked": looked,
            "plan": looked.plan if looked is not None else None,
            "title": looked.plan.title if looked is not None else self.desk.name if self.desk.path else "A new project",
            "summary": summary(found, tuple(found.plan.mode)) if found is not None else "",
            "worst": telling.worst(found) if found is not None else "note",
            "sign": drawn.sign,
            "units": looked.plan.units if looked is not None else "metric",
            "file_name": Path(self.desk.name).name,
            "outcome": self._outcome(looked),
        }

    def _outcome(self, looked: Looked | None) -> Outcome | None:
        """What the last trial did, as long as nothing else was done since."""
        if looked is None or self.trial is None or self.trial.number != self.desk.number:
            return None
        return outcome(self.trial, self.bench.looked(self.trial.before, self.desk.name).found, looked.found)

    def _told(self, looked: Looked, asked: Asked, findings: Iterable[Finding] | None = None) -> list[Told]:
        """Findings as this view shows them, with the way to what would help."""
        return [self._with_help(each, looked, asked) for each in telling.told(looked.found, findings)]

    def _with_help(self, told: Told, looked: Looked, asked: Asked) -> Told:
        if not told.can_be_helped:
            return told
        kept = [pair for pair in parse_qsl(urlsplit(asked.at).query) if pair[0] not in ("help", "as")]
        state = str(self.desk.number)
        if (asked.query("help"), asked.query("as")) != (told.name, state):
            return replace(told, help_at=f"{asked.path}?{urlencode([*kept, ('help', told.name), ('as', state)])}")
        query = urlencode({"number": state, "waiting": len(looked.waiting), "back": asked.at})
        closed = f"{asked.path}?{urlencode(kept)}"
        return replace(told, help_at=closed, help_from=f"/part/cures/{told.name}?{query}")

    def _questions(self, asked: Asked) -> View:
        given = dict(asked.again) or {name: values[0] for name, values in parse_qs(urlsplit(asked.at).query).items()}
        asked = replace(asked, at=asked.path)  # where answers go, and what is shown after them
        units: System = "inch" if given.get("units") == "inch" else "metric"
        given = given if asked.again else in_units(given, units)
        context = {"given": defaultdict(str, given), "uses": USES, "spaces": SPACES, "sides": SIDES}
        return "questions.html", self.frame(asked) | context | {"sizes": SIZES[units], "spare": SPARE[units]}

    def unread(self, asked: Asked, trouble: PlanError) -> View:
        """A project that can't be used, its text to be put right, as it was typed last if that is no better."""
        text = asked.again.get("text", self.desk.text or self.desk.rough)
        mend = Mending(text=text, faults=trouble.faults)
        if "text" in asked.again:
            mend = mending(text, lambda typed: self.bench.looked(typed, self.desk.name))
        return "unread.html", self.frame(asked) | {"mend": mend}

    def _whole(self, looked: Looked, asked: Asked) -> dict[str, Any]:
        told = self._told(looked, asked)
        return {
            "picture": drawn.schematic(looked.found, "", asked.narrow),
            "missed": [each for each in told if each.finding.missed or each.finding.heed],
            "others": [each for each in told if not (each.finding.missed or each.finding.heed)],
            "things": [
                (kind, TITLES[kind], [(key, telling.title(looked.plan, kind, key)) for key in keys])
                for kind in KINDS
                if (keys := tuple(getattr(looked.plan, kind)))
            ],
            "broken": broken_variants(looked.source),
        }

    def _thing(self, kind: str, key: str, looked: Looked, asked: Asked, frame: dict[str, Any]) -> View:
        if key not in getattr(looked.plan, kind):
            raise NoView(asked.path)
        plan = looked.plan
        shown = tuple(_with_refusal(each, asked) for each in fields(looked.source.data, kind, key, plan.units))
        mode = asked.query("mode")
        mode = mode if mode in plan.mode else telling.worst_mode(looked.found, key)
        context = frame | {
            "kind": kind,
            "key": key,
            "thing": telling.title(plan, kind, key),
            "kind_title": TITLES[kind],
            "fields": shown,
            "told": self._told(looked, asked, telling.about(looked.found, key)),
            "mode": mode,
        }
        if kind == "room" or (kind == "space" and plan.space[key].kind == "window"):
            return "room.html", context | self._room(looked, key, mode, asked)
        if kind == "box":
            return "box.html", context | self._box(looked, key, asked)
        return "thing.html", context

    def _room(self, looked: Looked, key: str, mode: str, asked: Asked) -> dict[str, Any]:
        found = looked.found
        heard = (key, mode) in found.noise
        condition = asked.query("condition")
        return {
            "picture": drawn.spectrum(found, key, mode, asked.narrow) if heard else "",
            "blame": drawn.blame(found, key, mode) if heard else "",
            "condition": condition,
        }

    def _box(self, looked: Looked, key: str, asked: Asked) -> dict[str, Any]:
        at = _frequency(asked.query("at"))
        field = standing(looked.found.plan, key).built.field
        assert field is not None, "it has been assessed"
        most = STEP * (field.limit // STEP)
        return {"waiting": key in looked.waiting, "at": min(at, most), "most": most, "step": STEP}

    def _file(self, looked: Looked, asked: Asked) -> dict[str, Any]:
        mend = Mending(text=looked.source.text)
        if "text" in asked.again:
            mend = mending(asked.again["text"], lambda typed: self.bench.looked(typed, self.desk.name))
        return {"mend": mend, "changes": changed_lines(self.desk.saved, self.desk.text)}


def _with_refusal(each: Field, asked: Asked) -> Field:
    if each.key not in asked.refused:
        return each
    typed, problem = asked.refused[each.key]
    return replace(each, value=typed, problem=problem)


def _frequency(text: str) -> float:
    try:
        return min(max(float(text), 20.0), 20_000.0)
    except ValueError:
        return PICTURED


def changed_lines(before: str, after: str) -> list[tuple[str, str]]:
    """Lines that saving would change, each with its sign: - was, + will be."""
    import difflib

    rows = list(difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""))[2:]
    return [(row[0], row[1:]) for row in rows if row[:1] in "+-"]
