"""What must hold between stands, joists, openings, appliances and the rest: names that exist, sizes that are known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sordino.elements.buildup import leaves
from sordino.names import near
from sordino.plan.faults import Complaint
from sordino.plan.hanging import Leaf
from sordino.plan.lines import Path
from sordino.plan.statement import Plan
from sordino.units import show


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every mistake in what is said of standing, hanging, fitting and burning."""
    for name in plan.stand:
        yield from _stand(plan, name)
    for name, joists in plan.joists.items():
        if joists.part_of is not None:
            yield from _leaf(plan, ("joists", name, "part_of"), joists.part_of)
    for name, appliance in plan.appliance.items():
        yield from _known(("appliance", name, "in"), appliance.within, (*plan.room, *plan.space), "room or space")
    for name, mover in plan.mover.items():
        if mover.charge is not None and mover.kind != "ducted unit":
            what = f"a mover of kind {mover.kind} holds no refrigerant"
            yield ("mover", name, "charge"), what, "drop this key"


def _stand(plan: Plan, name: str) -> Iterator[Complaint]:
    stand, path = plan.stand[name], ("stand", name)
    yield from _known(path, name, (*plan.box, *plan.mover), "box or mover")
    for index, opening in enumerate(stand.way):
        yield from _known((*path, "way", index), opening, plan.opening, "opening")
    for index, tie in enumerate(stand.ties):
        yield from _leaf(plan, (*path, "ties", index), tie)
    if stand.hung is not None:
        yield from _known((*path, "hung", "from"), stand.hung.joists, plan.joists, "row of joists")
        joists, at = plan.joists.get(stand.hung.joists), stand.hung.at
        if joists is not None and at is not None and at >= joists.span:
            span = show(joists.span, "length", plan.units)
            yield (*path, "hung", "at"), "this is beyond the joists' span", f"give a distance under {span}"
    if name in plan.mover and stand.mass is None and (stand.hung is not None or stand.lift is not None):
        yield path, "nothing tells what this machine weighs", 'give its mass, as mass = "28 kg"'
    if name in plan.mover and stand.outside is None and (stand.clear is not None or stand.way):
        cure = 'give length, width and height, as outside = ["0.9 m", "0.6 m", "0.25 m"]'
        yield path, "nothing tells how large this machine is", cure
    for key in ("mass", "outside"):
        if name in plan.box and getattr(stand, key) is not None:
            yield (*path, key), f"the {key} of a box is worked out from its boards", "drop this key"


def _leaf(plan: Plan, path: Path, said: Leaf) -> Iterator[Complaint]:
    yield from _known((*path, "shell"), said.shell, plan.shell, "shell")
    shell = plan.shell.get(said.shell)
    if shell is not None and shell.layers is not None and said.leaf > len(leaves(shell.layers)):
        count = len(leaves(shell.layers))
        yield (
            (*path, "leaf"),
            f"the shell {said.shell!r} has {count} leaf(s)",
            "count from the first place of `between`",
        )


def _known(path: Path, name: str, names: Iterable[str], what: str) -> Iterator[Complaint]:
    known = tuple(names)
    if name not in known:
        meant = near(name, known)
        hint = f"did you mean {meant!r}? " if meant else ""
        cure = f"there are: {', '.join(known)}" if known else "none is described in the file"
        yield path, f"there is no {what} {name!r}", hint + cure
