"""What must hold between the parts of a plan: names that exist, ducts that lead somewhere, air that can move."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sordino.elements.grille import Grille
from sordino.elements.junction import Branch
from sordino.elements.lined_box import LinedBox
from sordino.elements.open_end import OpenEnd
from sordino.names import near
from sordino.plan import extents, holding, tested, ways
from sordino.plan.faults import Complaint
from sordino.plan.fitting import bare_end, bare_start, opens
from sordino.plan.lines import Path
from sordino.plan.statement import Plan


def complaints(plan: Plan) -> Iterator[Complaint]:
    """Every mistake between the parts of a plan; what would only follow from another one is left unsaid."""
    own = (_names_twice, _shells, _movers, _modes, _schedule, _targets, _windows, _points, _access)
    for check in (*own, extents.complaints, holding.complaints, tested.complaints):
        yield from check(plan)
    ends, boxes = tuple(_runs(plan)), tuple(_boxes(plan))
    joints = () if ends else (*_ports(plan), *_junctions(plan))
    yield from (*ends, *boxes, *joints)
    if not (ends or boxes or joints):
        yield from ways.complaints(plan)


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
            yield ("mover", name, "extract_curve"), f"a mover of kind {mover.kind} has one stream", "drop this curve"


def _modes(plan: Plan) -> Iterator[Complaint]:
    for name, mode in plan.mode.items():
        for mover in mode.speeds:
            yield from _known(("mode", name, "speeds", mover), mover, tuple(plan.mover), "mover")


def _schedule(plan: Plan) -> Iterator[Complaint]:
    for index, stretch in enumerate(plan.session.schedule):
        yield from _known(("session", "schedule", index, "mode"), stretch.mode, tuple(plan.mode), "mode")


def _access(plan: Plan) -> Iterator[Complaint]:
    for box in plan.build.access:
        yield from _known(("build", "access", box), box, tuple(plan.box), "box")


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
        if run.within is not None:
            yield from _known(("run", name, "in"), run.within, _places(plan), "room or space")
        for index, part in enumerate(run.parts):
            if part.within is not None:
                yield from _known(("run", name, "parts", index, "in"), part.within, _places(plan), "room or space")
            if part.terminal:
                yield from _terminal(plan, name, index)


def _terminal(plan: Plan, name: str, index: int) -> Iterator[Complaint]:
    """A grille or bare end stands at an end of its run, and that end is in a room or space."""
    run, path = plan.run[name], ("run", name, "parts", index)
    label = f"a {run.parts[index].label()}"
    if index not in (0, len(run.parts) - 1):
        yield path, f"{label} can only stand at an end of the run", "take it out, or end the run here"
        return
    at_start = index == 0 and (len(run.parts) > 1 or opens(plan, run.start))
    node = run.start if at_start else run.end
    if node in _ends(plan) and not opens(plan, node):
        what = f"{label} can't join {node!r}, which is no room or space"
        yield path, what, "take it out, or end the run in a room"


def _points(plan: Plan) -> Iterator[Complaint]:
    """Ears and openings that are said to lie outside their room."""
    for name, room in plan.room.items():
        if room.ear is not None and not room.holds(room.ear):
            yield ("room", name, "ear"), "this point lies outside the room", "give along, across and up, within it"
    for name, run in plan.run.items():
        ends = [(0, run.start)] * (not bare_start(plan, run)) + [(len(run.parts) - 1, run.end)] * (
            not bare_end(plan, run)
        )
        for index, place in ends:
            part = run.parts[index] if run.parts else None
            point = part.at if isinstance(part, Grille | OpenEnd) else None
            if point is not None and place in plan.room and not plan.room[place].holds(point):
                what = f"this point lies outside the room {place!r}"
                yield ("run", name, "parts", index, "at"), what, "give along, across and up, within it"


def _end(plan: Plan, path: Path, node: str, leaving: bool) -> Iterator[Complaint]:
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
    yield from _known(path, node, _ends(plan), "room, space, junction or mover port")


def _ends(plan: Plan) -> tuple[str, ...]:
    """Everything that a run may end at."""
    return (*_places(plan), *plan.junction, *(f"{m}.{p}" for m in plan.mover for p in plan.mover[m].ports))


def _boxes(plan: Plan) -> Iterator[Complaint]:
    used: dict[str, str] = {}
    for name, run in plan.run.items():
        for index, part in enumerate(run.parts):
            if not isinstance(part, LinedBox):
                continue
            path = ("run", name, "parts", index, "box")
            yield from _known(path, part.box, tuple(plan.box), "box")
            if part.box in used:
                what = f"the box {part.box!r} already stands in the run {used[part.box]}"
                yield path, what, "describe a second box and name it here"
            used[part.box] = name
    for box in plan.box if used.keys() <= plan.box.keys() else ():
        if box not in used:
            cure = f"add {{ is = 'lined box', box = '{box}' }} to one, or leave the box out"
            yield ("box", box), f"the box {box!r} stands in no run", cure


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
        junction = plan.junction[name]
        if isinstance(junction, Branch) and junction.straight is not None:
            arms = tuple(key for key, run in plan.run.items() if name in (run.start, run.end))
            yield from _known(("junction", name, "straight"), junction.straight, arms, "run at this junction called")


def _places(plan: Plan) -> tuple[str, ...]:
    return (*plan.room, *plan.space)


def _known(path: Path, name: str, names: Iterable[str], what: str) -> Iterator[Complaint]:
    known = tuple(names)
    if name not in known:
        yield path, f"there is no {what} {name!r}", _choice(name, known, name)


def _choice(name: str, known: tuple[str, ...], written: str) -> str:
    meant = near(written or name, known)
    hint = f"did you mean {meant!r}? " if meant else ""
    return hint + (f"there are: {', '.join(known)}" if known else "none is described in the file")
