"""Which face closes the box last, and whether it must come off again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.elements.box import Face
from sordino.elements.box_clash import Clash
from sordino.elements.box_sheets import frames, profile_edges
from sordino.elements.built_box import BuiltBox
from sordino.elements.damper import Damper
from sordino.elements.filter import Filter
from sordino.physics.wave import prism as wave
from sordino.plan.statement import Plan

ALONG: tuple[Face, ...] = ("front", "back")
"""Faces that look at every divider's edge and every pass."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Closing:
    """The face that closes last, why, and what stands by the box that somebody must get at."""

    face: Face
    why: str
    serves: tuple[str, ...]
    """Filters and dampers next to the box: for their sake the closing boards come off again."""

    @property
    def removable(self) -> bool:
        """Whether it is screwed onto a gasket instead of being sealed."""
        return bool(self.serves)


def closing(prism: wave.Prism, access: Face | None = None, serves: tuple[str, ...] = ()) -> Closing:
    """The face that was asked for, or front or back, whichever has no duct in it; raises Clash if it can't close."""
    if access is not None:
        _check(prism, access)
        return Closing(face=access, why="it is the side from which the box can be reached", serves=serves)
    pierced = {port.face for port in prism.ports}
    free = [face for face in ALONG if face not in pierced]
    if free:
        return Closing(face=free[0], why="all passes can be reached from it and no duct goes through it", serves=serves)
    return Closing(face="front", why="all passes can be reached from it", serves=serves)


def _check(prism: wave.Prism, access: Face) -> None:
    if access not in frames(prism):
        raise Clash(f"the box has no {access} to close it by", "name a face that it has, as front")
    if prism.dividers and access not in ALONG:
        raise Clash(
            f"from the {access} nobody reaches behind the dividers", 'close the box by its "front" or its "back"'
        )
    askew = next((other for other in _beside(prism, access) if abs(_cosine(prism, access, other)) > 1e-6), None)
    if askew is not None:
        raise Clash(
            f"the {access} lies under the {askew} at a slant and can't be put in last",
            'close the box by its "front" or its "back"',
        )


def _beside(prism: wave.Prism, face: str) -> Iterator[str]:
    ring = [name for name, _, _ in profile_edges(prism)]
    if face in ring:
        at = ring.index(face)
        yield ring[at - 1]
        yield ring[(at + 1) % len(ring)]


def _cosine(prism: wave.Prism, one: str, other: str) -> float:
    bases = frames(prism)
    return sum(a * b for a, b in zip(bases[one].n, bases[other].n, strict=True))


def served(plan: Plan, name: str) -> tuple[str, ...]:
    """Filters and dampers right before or behind a box in its run."""
    found: list[str] = []
    for run in plan.run.values():
        for index, part in enumerate(run.parts):
            if isinstance(part, BuiltBox) and part.box == name:
                around = (*run.parts[max(index - 1, 0) : index], *run.parts[index + 1 : index + 2])
                found += [other.label() for other in around if isinstance(other, Filter | Damper)]
    return tuple(found)
