"""Where supply air meets the listener, and where it goes straight back out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.kinds import INCH
from sordino.physics.air.jets import NOTICED, jet_speed
from sordino.plan.statement import Plan
from sordino.units import show

STILL_FAST = 0.5
"""Speed in m/s at which supply air that meets an outlet is taken to go straight out (judgement)."""
LEAST = 0.1
"""A distance in m below which an opening counts as here."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Draught:
    """Speed of the air from one opening at the listener, or at an opening that takes it out, were it aimed there."""

    room: str
    run: str
    target: str
    """The run whose opening the air meets; empty for the listener."""
    distance: float
    speed: float

    @property
    def noticed(self) -> bool:
        """Whether it is fast enough to be felt."""
        return self.speed > NOTICED


def draught_findings(plan: Plan, mode: str, found: tuple[Draught, ...]) -> Iterator[Finding]:
    """Air at each listener, and supply air that goes straight back out."""
    for each in found:
        yield Finding(
            subject=each.room,
            question="draught",
            mode=mode,
            standing="note",
            beside="likely missed" if each.noticed and not each.target else "note",
            value=each.speed,
            limit=NOTICED,
            unit="m/s",
            sentence=_at_ear(plan, each) if not each.target else _short(plan, each),
            method="free jet on its axis",
        )


def _at_ear(plan: Plan, each: Draught) -> str:
    limit = show(NOTICED, "velocity", plan.units)
    words = "turn it away, slow it or move it, or it is felt and heard" if each.noticed else "hardly felt"
    return (
        f"{plan.place_name(each.room)}: if {each.run} blows at the listener, {_away(plan, each)} away, its air arrives "
        f"at up to {show(each.speed, 'velocity', plan.units)} (felt from {limit}): {words}."
    )


def _short(plan: Plan, each: Draught) -> str:
    return (
        f"{plan.place_name(each.room)}: {each.run} opens {_away(plan, each)} from {each.target} and can reach it at "
        f"{show(each.speed, 'velocity', plan.units)}: part of its air goes straight back out. Set them apart, or aim "
        "it away."
    )


def _away(plan: Plan, each: Draught) -> str:
    """The distance as written; one between two points to 100 mm or a whole inch."""
    step = 0.1 if plan.units == "metric" else INCH
    written = each.distance == plan.room[each.room].listener
    return show(each.distance if written else round(each.distance / step) * step, "length", plan.units)


@dataclass(frozen=True, kw_only=True, slots=True)
class Mouth:
    """An opening into a room and the flow that it lets in (negative: takes out), m3/s."""

    room: str
    run: str
    end: Grille | OpenEnd
    flow: float


def draughts(plan: Plan, state: AirState) -> tuple[Draught, ...]:
    """At each listener the fastest air, and each pair of openings of which one blows at the other."""
    return tuple(found for room in plan.room for found in _in_room(plan, room, state))


def _in_room(plan: Plan, room: str, state: AirState) -> Iterator[Draught]:
    mouths = [mouth for mouth in _mouths(plan, state) if mouth.room == room]
    blowing = [mouth for mouth in mouths if mouth.flow > 0.0]
    if blowing:
        yield max((_at_listener(plan, mouth) for mouth in blowing), key=lambda each: each.speed)
    for mouth in blowing:
        for other in mouths:
            if other.flow < 0.0 and mouth.end.at is not None and other.end.at is not None:
                short = _arriving(mouth, dist(mouth.end.at, other.end.at), other.run)
                if short.speed > STILL_FAST:
                    yield short


def _at_listener(plan: Plan, mouth: Mouth) -> Draught:
    room, at = plan.room[mouth.room], mouth.end.at
    return _arriving(mouth, room.listener if room.ear is None or at is None else dist(room.ear, at), "")


def _arriving(mouth: Mouth, distance: float, target: str) -> Draught:
    away, area = max(distance, LEAST), mouth.end.free_opening
    speed = float(jet_speed(mouth.flow / area, area, away, mouth.end.jet))
    return Draught(room=mouth.room, run=mouth.run, target=target, distance=away, speed=speed)


def _mouths(plan: Plan, state: AirState) -> Iterator[Mouth]:
    for name, run in plan.run.items():
        flow = state.flows[name]
        for room, part, inward in ((run.end, run.parts[-1:], flow), (run.start, run.parts[:1], -flow)):
            if room in plan.room and part and isinstance(part[0], Grille | OpenEnd):
                yield Mouth(room=room, run=name, end=part[0], flow=inward)
