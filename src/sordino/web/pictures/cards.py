"""A thing of the plan as a card: what it is, what it is called, its figure, how it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Literal

from sordino.assess.assessment import Assessment
from sordino.assess.loudness import Loudness
from sordino.assess.wording import flow_words, rating_words
from sordino.elements.built_box import BuiltBox
from sordino.plan.statement import Plan
from sordino.report.phrases import count
from sordino.report.verdict import RANK, rank
from sordino.web.pictures import marks
from sordino.web.pictures.marks import SMALL
from sordino.web.pictures.states import SIGN, State, sign, state
from sordino.web.pictures.words import wrapped

Kind = Literal["room", "space", "mover", "box", "run", "junction"]
NAME, LINE, PAD = 13.0, 15.5, 9.0
"""Size of names, height of a line, room inside a card, px."""
MOST = 4
"""Lines for how a thing stands."""
CUT = 9.0
"""Cut corners of a machine, px."""
AROUND = "Around it"
"""Heading of what is joined to no run."""
KINDS = {"outside": "open air", "window": "neighbour's window", "room": "other room"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Card:
    """One thing."""

    kind: Kind
    key: str
    name: str
    what: str
    figure: str
    state: State
    judged: bool
    """Whether it is ever held against anything; the open air is not."""

    @property
    def told(self) -> str:
        """All of it in words."""
        parts = (self.name, self.what, self.figure, self.state.words if self.judged else "")
        return ", ".join(part for part in parts if part)


def room_card(found: Assessment, key: str) -> Card:
    """A room with the noise of its worst mode."""
    return Card(
        kind="room",
        key=key,
        name=found.plan.place_name(key),
        what="room",
        figure=_loudest(found, key),
        state=state(found, key),
        judged=True,
    )


def _loudest(found: Assessment, place: str) -> str:
    """Its noise in the way of running in which that stands worst, and which one that is."""
    judged = {each.mode: rank(each) for each in found.findings if (each.question, each.subject) == ("noise", place)}
    heard = {mode: each for (where, mode), each in found.noise.items() if where == place}
    if not heard:
        return ""
    mode = max(heard, key=lambda each: (-judged.get(each, len(RANK)), _over(heard[each])))
    return rating_words(heard[mode]) + (f", {mode}" if len(heard) > 1 else "")


def _over(heard: Loudness) -> float:
    return heard.rating.value - (heard.target.value if heard.target is not None else 0.0)


def around(plan: Plan) -> tuple[str, ...]:
    """Spaces in which no run begins or ends: the runs lie in them, or hear or are heard there."""
    ends = {end.partition(".")[0] for run in plan.run.values() for end in (run.start, run.end)}
    return tuple(key for key in plan.space if key not in ends)


def space_card(found: Assessment, key: str) -> Card:
    """Something around the project."""
    space = found.plan.space[key]
    held = sum(run.within == key for run in found.plan.run.values())
    return Card(
        kind="space",
        key=key,
        name=found.plan.place_name(key),
        what=KINDS.get(space.kind, space.kind) + (f", {count(held, 'run')} in it" if held else ""),
        figure=_loudest(found, key),
        state=state(found, key),
        judged=space.kind == "window" or bool(state(found, key).worst),
    )


def mover_card(found: Assessment, key: str) -> Card:
    """A machine."""
    mover = found.plan.mover[key]
    name = found.plan.place_name(key)
    return Card(kind="mover", key=key, name=name, what=mover.kind, figure="", state=state(found, key), judged=True)


def junction_card(found: Assessment, key: str) -> Card:
    """Where runs meet."""
    what = found.plan.junction[key].kind
    stands = state(found, key)
    return Card(kind="junction", key=key, name=key, what=what, figure="", state=stands, judged=bool(stands.worst))


def run_card(found: Assessment, key: str) -> Card:
    """A run with the most air that it carries."""
    flows = [abs(found.state(mode).flows[key]) for mode in found.plan.mode]
    figure = flow_words(found.plan, max(flows))
    if len(flows) > 1:
        figure = f"up to {figure}"
    return Card(kind="run", key=key, name=key, what="run", figure=figure, state=state(found, key), judged=True)


def box_cards(found: Assessment, run: str) -> Iterator[Card]:
    """The boxes of a run."""
    for part in found.plan.run[run].parts:
        if isinstance(part, BuiltBox):
            what = f"{part.build.family} box"
            yield Card(
                kind="box", key=part.box, name=part.box, what=what, figure="", state=state(found, part.box), judged=True
            )


def lines(card: Card, wide: float) -> list[tuple[str, str]]:
    """Lines of a card with their classes: name, what it is, figure, state."""
    room = wide - 2.0 * PAD - _indent(card)
    named = [(line, "name") for line in wrapped(card.name, room - (2.0 * SIGN + 5.0), NAME, 2)]
    what = [(line, "soft") for line in wrapped(card.what, room, SMALL, 2)] if card.kind != "run" else []
    figure = [(line, "ink") for line in wrapped(card.figure, room, SMALL, 2)] if card.figure else []
    stands = [(line, _class(card)) for line in wrapped(card.state.words, room, SMALL, MOST)] if card.judged else []
    return [*named, *what, *figure, *stands]


def _indent(card: Card) -> float:
    return 9.0 if card.kind == "box" else 0.0


def _class(card: Card) -> str:
    return f"says {card.state.standing.replace(' ', '-')}"


def height(card: Card, wide: float) -> float:
    """Room that a card takes."""
    return len(lines(card, wide)) * LINE + 2.0 * PAD - 3.0


def drawn(card: Card, left: float, upper: float, wide: float, chosen: bool) -> str:
    """A card as a link."""
    high, x = height(card, wide), left + PAD + _indent(card)
    parts = [*_outline(card, left, upper, wide, high)]
    if card.judged:
        parts.append(sign(card.state.standing, (left + wide - PAD - SIGN, upper + PAD + 5.5)))
    for index, (words, kind) in enumerate(lines(card, wide)):
        at = (x, upper + PAD + 9.5 + index * LINE)
        parts.append(marks.text(at, words, NAME if kind == "name" else SMALL, class_=kind))
    return marks.element(
        "a",
        f"<title>{escape(card.told)}</title>{''.join(parts)}",
        class_=f"thing {card.kind}" + (" chosen" if chosen else ""),
        href=f"#{card.kind}-{card.key}",
        data_kind=card.kind,
        data_key=card.key,
        data_standing=card.state.standing if card.judged else "none",
        **({"aria_current": "true"} if chosen else {}),
    )


def _outline(card: Card, left: float, upper: float, wide: float, high: float) -> Iterator[str]:
    """Rooms have double walls, spaces are broken lines, machines have cut corners, boxes a strip of fibre."""
    if card.kind == "mover":
        right, lower = left + wide, upper + high
        yield marks.area(
            (
                (left + CUT, upper),
                (right - CUT, upper),
                (right, upper + CUT),
                (right, lower - CUT),
                (right - CUT, lower),
                (left + CUT, lower),
                (left, lower - CUT),
                (left, upper + CUT),
            ),
            class_="card",
        )
        return
    corner = {"junction": 12.0, "space": 7.0}.get(card.kind, 1.0)
    yield marks.bar(left, upper, wide, high, class_="card", round_=corner)
    if card.kind == "room":
        yield marks.bar(left + 3.0, upper + 3.0, wide - 6.0, high - 6.0, class_="inner-wall", round_=1.0)
    if card.kind == "box":
        waves = "".join(
            f"M{marks.number(left + 3.0)} {marks.number(y)}q2.5 -4 5 0t5 0"
            for y in (upper + 7.0 + 6.0 * step for step in range(int((high - 10.0) / 6.0) + 1))
        )
        yield marks.element("path", d=waves, class_="fibre-strip")


def worst_first(cards: list[Card]) -> list[Card]:
    """Cards by how they stand."""
    return sorted(cards, key=lambda card: RANK.index(card.state.standing))
