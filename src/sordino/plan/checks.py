"""What must hold between the parts of a plan: names that exist, ducts that lead somewhere, air that can move."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator

from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.lined_box import LinedBox
from sordino.plan.fitting import fitted
from sordino.plan.statement import Plan
from sordino.quantities import Size

Complaint = tuple[tuple[str | int, ...], str, str]
"""Where, what is wrong, what would do."""


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every mistake between the parts of a plan."""
    yield from _names_twice(plan)
    for check in (_shells, _movers, _modes, _targets, _windows, _runs, _boxes, _ports, _junctions):
        yield from check(plan)
    if not any(True for check in (_runs, _ports, _boxes) for _ in check(plan)):
        yield from _sizes(plan)
        yield from _loops(plan)
        yield from _still_air(plan)


def _names_twice(plan: Plan) -> Iterator[Complaint]:
    seen: dict[str, str] = {}
    for table in ("room", "space", "mover", "junction"):
        for name in getattr(plan, table):
            if name in seen:
                yield (table, name), f"{name!r} is also the name of a {seen[name]}", "give each its own name"
            if "." in name:
                yield (table, name), f"{name!r} has a dot in it", "use letters, digits and hyphens: dots mark ports"
            seen[name] = table


def _shells(plan: Plan) -> Iterator[Complaint]:
    for name, shell in plan.shell.items():
        for index, place in enumerate(shell.between):
            yield from _known(("shell", name, "between", index), place, _places(plan), "room or space")
        if shell.between[0] == shell.between[1]:
            yield ("shell", name, "between"), "a shell parts two different places", "name the place on the other side"


def _movers(plan: Plan) -> Iterator[Complaint]:
    for name, mover in plan.mover.items():
        yield from _known(("mover", name, "in"), mover.within, _places(plan), "room or space")
        if mover.extract_curve is not None and len(mover.streams) < 2:
            yield ("mover", name, "extract_curve"), f"a {mover.kind} has one stream", "drop this curve"


def _modes(plan: Plan) -> Iterator[Complaint]:
    for name, mode in plan.mode.items():
        for mover in mode.speeds:
            yield from _known(("mode", name, "speeds", mover), mover, tuple(plan.mover), "mover")


def _targets(plan: Plan) -> Iterator[Complaint]:
    for name, room in plan.room.items():
        for mode in room.target if isinstance(room.target, dict) else ():
            yield from _known(("room", name, "target", mode), mode, tuple(plan.mode), "mode")


def _windows(plan: Plan) -> Iterator[Complaint]:
    for name, space in plan.space.items():
        for run in space.distances:
            yield from _known(("space", name, "distances", run), run, tuple(plan.run), "run")


def _runs(plan: Plan) -> Iterator[Complaint]:
    for name, run in plan.run.items():
        yield from _end(plan, ("run", name, "from"), run.start, leaving=True)
        yield from _end(plan, ("run", name, "to"), run.end, leaving=False)
        if run.start == run.end:
            yield ("run", name, "to"), "the run ends where it begins", "name the place that the air goes to"
        for place, inside in (("in", run.within),):
            if inside is not None:
                yield from _known(("run", name, place), inside, _places(plan), "room or space")
        for index, part in enumerate(run.parts):
            if part.within is not None:
                yield from _known(("run", name, "parts", index, "in"), part.within, _places(plan), "room or space")
            yield from _part(plan, name, index)


def _part(plan: Plan, name: str, index: int) -> Iterator[Complaint]:
    run = plan.run[name]
    part = run.parts[index]
    if not part.terminal:
        return
    node = run.start if index == 0 and (len(run.parts) > 1 or _opens(plan, run.start)) else run.end
    if not _opens(plan, node):
        where = f"{node!r}, which is no room or space"
        yield (
            ("run", name, "parts", index),
            f"a {part.label()} can't join {where}",
            "take it out, or end the run in a room",
        )


def _end(plan: Plan, path: tuple[str | int, ...], node: str, leaving: bool) -> Iterator[Complaint]:
    place, dot, port = node.partition(".")
    if place in plan.mover:
        ports = plan.mover[place].ports
        if port not in ports:
            what = f"{place!r} has no port {port!r}" if dot else f"{node!r} is a mover: say which port"
            yield path, what, _choice(port, tuple(f"{place}.{each}" for each in ports), f"{place}.{port}")
        elif (port in {enters for enters, _ in plan.mover[place].streams}) == leaving:
            way = "takes air in" if leaving else "blows air out"
            yield path, f"{node!r} {way}, so no run can {'start' if leaving else 'end'} there", "swap from and to"
        return
    if plan.space.get(node) is not None and plan.space[node].kind == "window":
        yield path, f"{node!r} is a window to listen at; no duct ends there", "end the run at the space outdoors"
        return
    ends = (*_places(plan), *plan.junction, *(f"{m}.{p}" for m in plan.mover for p in plan.mover[m].ports))
    yield from _known(path, node, ends, "room, space, junction or mover port")


def _boxes(plan: Plan) -> Iterator[Complaint]:
    used: dict[str, str] = {}
    for name, run in plan.run.items():
        for index, part in enumerate(run.parts):
            if not isinstance(part, LinedBox):
                continue
            path = ("run", name, "parts", index, "box")
            yield from _known(path, part.box, tuple(plan.box), "box")
            if part.box in used:
                yield path, f"the box {part.box!r} is already built into {used[part.box]}", "describe a second box"
            used[part.box] = name
    for box in plan.box:
        if box not in used:
            yield (
                ("box", box),
                f"the box {box!r} stands in no run",
                "add { is = 'lined box', box = '" + box + "' } to one",
            )


def _ports(plan: Plan) -> Iterator[Complaint]:
    joined: dict[str, str] = {}
    for name, run in plan.run.items():
        for key, node in (("from", run.start), ("to", run.end)):
            if "." not in node:
                continue
            if node in joined:
                what = f"{node!r} is already joined to run {joined[node]!r}"
                yield ("run", name, key), what, "lead both to a junction and one run from there to the port"
            joined[node] = name
    for mover, statement in plan.mover.items():
        for port in statement.ports:
            if f"{mover}.{port}" not in joined:
                what = f"no run is joined to {mover}.{port}"
                yield ("mover", mover), what, "add a run, if only a short one that ends in the space it draws from"


def _junctions(plan: Plan) -> Iterator[Complaint]:
    for name in plan.junction:
        inward = [run for run in plan.run.values() if run.end == name]
        onward = [run for run in plan.run.values() if run.start == name]
        if not inward or not onward or len(inward) + len(onward) < 3:
            what = f"{len(inward)} run(s) lead to this junction and {len(onward)} away from it"
            yield ("junction", name), f"{what}: a duct ends nowhere", "join at least three, with air in and air out"


def _sizes(plan: Plan) -> Iterator[Complaint]:
    for name, run in fitted(plan).run.items():
        before: Size | None = None
        shift = len(run.parts) - len(plan.run[name].parts) - (not _ends_open(plan, name))
        for index, part in enumerate(run.parts):
            path = ("run", name, "parts", max(index - max(shift, 0), 0))
            if isinstance(part, FlexibleDuct) and not part.section.round:
                yield path, "flexible duct is round, but the run is rectangular here", "put a transition before it"
            if before is not None and part.section != before:
                what = f"the duct jumps from {before.shown(plan.units)} to {part.section.shown(plan.units)} here"
                yield path, what, "put a transition between: { is = 'transition', to = '…' }"
            before = part.outlet


def _ends_open(plan: Plan, name: str) -> bool:
    """Whether fitting adds a bare end before the first written part."""
    run = plan.run[name]
    starts = _opens(plan, run.start) and not (run.parts and run.parts[0].terminal)
    return not starts


def _loops(plan: Plan) -> Iterator[Complaint]:
    """Ducts that lead round to themselves by junctions alone."""
    group = {name: name for name in plan.junction}

    def root(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for name, run in plan.run.items():
        if run.start in group and run.end in group:
            first, second = root(run.start), root(run.end)
            if first == second:
                what = "this run closes a loop of ducts with neither a room nor the outside in it"
                yield ("run", name), what, "end one of the runs in a room, or leave it out"
            group[first] = second


def _still_air(plan: Plan) -> Iterator[Complaint]:
    """Runs that no mover can push air through, and movers that only feed themselves."""
    group: dict[str, set[str]] = {}
    pairs = [(run.start, run.end) for run in plan.run.values()]
    pairs += [
        (f"{name}.{enters}", f"{name}.{leaves}")
        for name, mover in plan.mover.items()
        for enters, leaves in mover.streams
    ]
    for first, second in pairs:
        whole = group.get(first, {first}) | group.get(second, {second})
        group.update(dict.fromkeys(whole, whole))
    for name, run in plan.run.items():
        reached = group[run.start]
        if not any(node.partition(".")[0] in plan.mover for node in reached):
            yield ("run", name), "nothing moves air through this run", "join a mover to it or to its rooms"
        elif not any(_opens(plan, node) for node in reached):
            what = "the air here goes round with neither a room nor the outside in the loop"
            yield ("run", name), what, "let the run end in a room"


def _opens(plan: Plan, node: str) -> bool:
    return node in plan.room or node in plan.space


def _places(plan: Plan) -> tuple[str, ...]:
    return (*plan.room, *plan.space)


def _known(path: tuple[str | int, ...], name: str, names: Iterable[str], what: str) -> Iterator[Complaint]:
    known = tuple(names)
    if name not in known:
        yield path, f"there is no {what} {name!r}", _choice(name, known, name)


def _choice(name: str, known: tuple[str, ...], written: str) -> str:
    near = difflib.get_close_matches(written or name, known, n=1)
    hint = f"did you mean {near[0]!r}? " if near else ""
    return hint + (f"there are: {', '.join(known)}" if known else "none is described in the file")
