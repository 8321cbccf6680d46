"""What must hold along the ducts of a plan: sections that fit, loops that open somewhere, air that something moves."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.elements.box_layout import Clash, layout
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.plan.faults import Complaint
from sordino.plan.fitting import bare_start, fitted, opens
from sordino.plan.lines import Path
from sordino.plan.statement import Plan


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every mistake along the ducts of a plan whose names all lead somewhere."""
    yield from _sizes(plan)
    loops = tuple(_loops(plan))
    yield from loops or _still_air(plan)


def _sizes(plan: Plan) -> Iterator[Complaint]:
    for name, run in fitted(plan).run.items():
        ahead = int(bare_start(plan, plan.run[name]))
        before: Element | None = None
        for index, part in enumerate(run.parts):
            written = 0 <= index - ahead < len(plan.run[name].parts)
            path: Path = ("run", name, "parts", index - ahead) if written else ("run", name)
            yield from _round_enough(path, part)
            yield from _box_holds(plan, part)
            if before is not None and part.section != before.outlet:
                what = f"the duct jumps from {before.outlet.shown(plan.units)} to {part.section.shown(plan.units)} here"
                yield path, what, f"put a transition before it: {{ is = 'transition', to = '{_written(part)}' }}"
            before = part


def _written(part: Element) -> str:
    return part.section.shown("metric")


def _round_enough(path: Path, part: Element) -> Iterator[Complaint]:
    if isinstance(part, FlexibleDuct) and not part.section.round:
        yield path, "flexible duct is round, but the run is rectangular here", "put a transition before it"


def _box_holds(plan: Plan, part: Element) -> Iterator[Complaint]:
    """Whether a box can be laid out in this run."""
    if isinstance(part, BuiltBox):
        try:
            layout(part.build, part.section)
        except Clash as clash:
            yield ("box", part.box), *clash.shown(plan.units)


def _loops(plan: Plan) -> Iterator[Complaint]:
    """Ducts that lead round to themselves by junctions alone."""
    groups = _Groups()
    for name, run in plan.run.items():
        if run.start in plan.junction and run.end in plan.junction and not groups.joined(run.start, run.end):
            what = "this run closes a loop of ducts with neither a room nor the outside in it"
            yield ("run", name), what, "end one of the loop's runs in a room, or leave it out"


def _still_air(plan: Plan) -> Iterator[Complaint]:
    """Runs that no mover can push air through, and movers that only feed themselves.

    Spaces stand at a fixed pressure, so what moves air on one side of them moves none on the other.
    """
    groups = _Groups()
    ends = {name: (_end(plan, name, run.start), _end(plan, name, run.end)) for name, run in plan.run.items()}
    for first, second in ends.values():
        groups.joined(first, second)
    for name, mover in plan.mover.items():
        for enters, leaves in mover.streams:
            groups.joined(f"{name}.{enters}", f"{name}.{leaves}")
    moved = {groups.root(f"{name}.{port}") for name, mover in plan.mover.items() for port in mover.ports}
    open_ended = {
        groups.root(place) for pair in ends.values() for place in pair if opens(plan, place.partition("@")[0])
    }
    for name, (start, _) in ends.items():
        if groups.root(start) not in moved:
            yield ("run", name), "nothing moves air through this run", "join a mover to it or to its rooms"
        elif groups.root(start) not in open_ended:
            what = "the air here goes round with neither a room nor the outside in the loop"
            yield ("run", name), what, "let the run end in a room"


def _end(plan: Plan, run: str, node: str) -> str:
    return f"{node}@{run}" if node in plan.space else node


class _Groups:
    """Nodes that hang together."""

    def __init__(self) -> None:
        self.above: dict[str, str] = {}

    def root(self, node: str) -> str:
        """The node that stands for all that hang together with this one."""
        while node in self.above:
            node = self.above[node]
        return node

    def joined(self, first: str, second: str) -> bool:
        """Join two nodes; false if they hung together already."""
        one, other = self.root(first), self.root(second)
        if one == other:
            return False
        self.above[one] = other
        return True
