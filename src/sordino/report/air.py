"""What the air will do: flows, speeds with their limits, fans, room pressures, balance, pressure line by line."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airflow import AirState, Stream
from sordino.assess.assessment import Assessment
from sordino.assess.drops import lines
from sordino.assess.speeds import Speed, wanted_size
from sordino.assess.wording import NO_AIR
from sordino.quantities import Size
from sordino.report import layout
from sordino.report.phrases import enough, flow, pressure, velocity
from sordino.units import show


def flows(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Flow of every run in every mode, with clean filters and with filters due for change."""
    head = ["run", "wanted", *[title for mode in modes for title in (mode, "dirty filter", "loses")]]
    rows = []
    for name, run in found.plan.run.items():
        cells = [name, layout.NOTHING if run.wanted is None else flow(found.plan, run.wanted)]
        for mode in modes:
            clean, dirty = found.states[mode, "clean"], found.states[mode, "dirty"]
            drop = sum(line.drop for line in lines(found.plan, name, clean.flows[name], "clean", found.air))
            cells += [
                _directed(found, clean, name),
                _directed(found, dirty, name),
                pressure(found.plan, drop),
            ]
        rows.append(cells)
    return [*layout.heading("Air flow and pressure of every run"), *layout.grid(head, rows), *_backwards(found, modes)]


def _directed(found: Assessment, state: AirState, name: str) -> str:
    value = state.flows[name]
    return ("back " if value <= -NO_AIR else "") + flow(found.plan, value)


def _backwards(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    if all(found.states[mode, "clean"].flows[name] > -NO_AIR for mode in modes for name in found.plan.run):
        return []
    return layout.paragraph(
        "back: the air runs against the direction in which the run was written, from `to` to `from`."
    )


def speeds(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Speed at each named place of each run against what is quiet there."""
    head = ["run: part", "where", *[title for mode in modes for title in (mode, "limit")]]
    by_mode = [found.speeds[mode] for mode in modes]
    rows = []
    for along in zip(*by_mode, strict=True):
        first = along[0]
        cells = [f"{first.run}: {first.station}", first.place]
        for speed in along:
            cells += [velocity(found.plan, speed.velocity), _limit(found, speed)]
        rows.append(cells)
    told = [*layout.heading("Air speed at every station"), *layout.grid(head, rows, left=2)]
    return [
        *told,
        *layout.paragraph("! faster than suits the target of the room it opens into."),
        *_sizes(found, modes),
    ]


def _limit(found: Assessment, speed: Speed) -> str:
    if speed.limit is None:
        return ""
    return ("! " if speed.velocity > speed.limit else "") + velocity(found.plan, speed.limit)


def _sizes(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """What each opening into a room with a target may carry as built, and the free opening that would be quiet."""
    rows = [
        _size_row(found, mode, speed)
        for name in found.plan.run
        for mode, speed in [_tightest(found, modes, name)]
        if speed is not None
    ]
    if not rows:
        return []
    head = ["run", "mode", "carries", "limit", "quiet up to", "needs free", "sold", "or flat"]
    return [*layout.heading("What is quiet at each opening into a room"), *layout.grid(head, rows, left=2)]


def _size_row(found: Assessment, mode: str, speed: Speed) -> list[str]:
    plan, limit = found.plan, speed.limit or 1.0
    carried = abs(found.state(mode).flows[speed.run])
    size = wanted_size(carried, limit, plan.units)
    return [
        speed.run,
        mode,
        flow(plan, carried),
        velocity(plan, limit),
        flow(plan, carried * limit / speed.velocity),
        enough(plan, Size.circle(size.exact)),
        f"{show(size.standard, 'length', plan.units)} at {velocity(plan, size.at_standard)}",
        enough(plan, size.flat),
    ]


def _tightest(found: Assessment, modes: tuple[str, ...], name: str) -> tuple[str, Speed | None]:
    """The mode in which an opening is most over its limit, or least under it."""
    asked = [
        (speed.velocity / speed.limit, mode, speed)
        for mode in modes
        for speed in found.speeds[mode]
        if speed.run == name and speed.limit and speed.velocity > 0.0
    ]
    _, mode, worst = max(asked, key=lambda each: each[0], default=(0.0, "", None))
    return mode, worst


def fans(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Where each stream of each mover settles, clean and dirty, and every other point where it could."""
    head = ["mover", "mode", "speed", "moves", "against", "of free flow", "dirty filter", "left at wanted flow"]
    rows, notes = [], []
    for mode in modes:
        clean, dirty = found.states[mode, "clean"], found.states[mode, "dirty"]
        for stream, later in zip(clean.streams, dirty.streams, strict=True):
            rows.append(_fan_row(found, mode, stream, later))
            notes += list(_crossings(found, mode, stream))
    if not rows:
        return []
    return [*layout.heading("Fans at their operating points"), *layout.grid(head, rows, left=2), *notes]


def stream_name(found: Assessment, stream: Stream) -> str:
    """A mover, with the side where it has two streams."""
    side = (" supply side", " extract side")[stream.index] if len(found.plan.mover[stream.mover].streams) > 1 else ""
    return found.plan.place_name(stream.mover) + side


def _fan_row(found: Assessment, mode: str, stream: Stream, later: Stream) -> list[str]:
    name, speed = stream_name(found, stream), f"{100 * stream.speed:.0f} %"
    if stream.speed <= 0.0:
        return [name, mode, "off", flow(found.plan, stream.flow), *[layout.NOTHING] * 4]
    share = stream.flow / stream.free_flow if stream.free_flow else 0.0
    moved, against = flow(found.plan, stream.flow), pressure(found.plan, stream.pressure)
    return [
        name,
        mode,
        speed,
        moved,
        against,
        f"{100 * share:.0f} %",
        flow(found.plan, later.flow),
        _left(found, stream),
    ]


def _left(found: Assessment, stream: Stream) -> str:
    """Pressure left over at the wanted flow; short of it where negative."""
    if stream.spare is None:
        return layout.NOTHING
    return f"{'short ' if stream.spare < 0 else ''}{show(abs(stream.spare), 'pressure', found.plan.units)}"


def _crossings(found: Assessment, mode: str, stream: Stream) -> Iterator[str]:
    if len(stream.crossings) > 1:
        points = "; ".join(
            f"{flow(found.plan, point.flow)} ({'stable' if point.stable else 'unstable'})" for point in stream.crossings
        )
        yield from layout.paragraph(f"{stream_name(found, stream)}, {mode}: its curve crosses the network at {points}.")
    if stream.extended:
        words = "the curve was extended beyond its points; ask for more of it"
        yield from layout.paragraph(f"{stream_name(found, stream)}, {mode}: {words}.")


def pressures(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Room pressure over outdoors and the force it adds at the door handle."""
    head = ["room", "mode", "over outdoors", "at the door handle", "limit"]
    rows = [
        [
            found.plan.place_name(each.room),
            mode,
            pressure(found.plan, each.pressure),
            show(each.force, "force", found.plan.units),
            show(each.limit, "force", found.plan.units),
        ]
        for mode in modes
        for each in found.pressures[mode]
    ]
    return [*layout.heading("Room pressures"), *layout.grid(head, rows, left=2)]


def balance(found: Assessment) -> list[str]:
    """Arms of each junction at the flows that are wanted, and what a damper must take."""
    if not found.branches:
        return []
    head = ["junction", "run", "wanted", "loses", "to spare", "blade from open"]
    rows = [
        [
            branch.junction,
            branch.run,
            flow(found.plan, branch.flow),
            pressure(found.plan, branch.drop),
            pressure(found.plan, branch.surplus),
            f"{branch.angle:.0f}°",
        ]
        for branch in found.branches
    ]
    return [*layout.heading("Balancing at the wanted flows"), *layout.grid(head, rows, left=2)]


def pressure_ledger(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Pressure lost line by line along every run, filters clean."""
    rows: list[list[str]] = []
    for name in found.plan.run:
        by_mode = [
            lines(found.plan, name, found.states[mode, "clean"].flows[name], "clean", found.air) for mode in modes
        ]
        if not by_mode[0]:
            continue
        rows.append([name, *[_directed(found, found.states[mode, "clean"], name) for mode in modes]])
        rows += [
            [f"  {along[0].label}", *[pressure(found.plan, line.drop) for line in along]]
            for along in zip(*by_mode, strict=False)
            if along[0].label
        ]
        rows.append(["  all of it", *[pressure(found.plan, sum(line.drop for line in each)) for each in by_mode]])
        rows.append([""] * (len(modes) + 1))
    return [*layout.heading("Pressure line by line, filters clean"), *layout.grid(["run and part", *modes], rows[:-1])]
