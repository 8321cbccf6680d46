"""The whole plan at a glance: from the open air on the left, by machines and ducts, to the rooms on the right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from sordino.assess.assessment import Assessment
from sordino.report.phrases import count
from sordino.web.pictures import marks
from sordino.web.pictures.cards import (
    AROUND,
    Card,
    around,
    box_cards,
    drawn,
    height,
    junction_card,
    mover_card,
    room_card,
    run_card,
    space_card,
)
from sordino.web.pictures.layers import Graph, Link, Node, chain, heights, ordered
from sordino.web.pictures.schematic_list import schematic_list

PLACE, RUN, GAP, EDGE = 140.0, 150.0, 14.0, 6.0
"""Widths of columns of places and of runs, least gap between cards, and edge, px."""
CHANNEL, PER_LINE, WIDEST = 22.0, 3.5, 64.0
"""Width of the channel between two columns: at least, for each line in it, and at most, px."""
FULL, LOOSEST = 1040.0, 150.0
"""Width that a small plan is spread over, and the widest channel that this may give, px."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """Everything at its place: stacks, the middles of stacks and bends, and the left edge of every column, px."""

    stacks: dict[str, Stack]
    middles: dict[str, float]
    lefts: tuple[float, ...]

    def side(self, key: str, right: bool) -> float:
        """The edge of a stack."""
        stack = self.stacks[key]
        return self.lefts[stack.column] + (stack.wide if right else 0.0)

    def forth(self, place: str, middle: str) -> bool:
        """Whether a run stands right of a place."""
        return self.stacks[middle].column > self.stacks[place].column

    def bends(self, place: str, middle: str, name: str) -> list[tuple[int, float]]:
        """Columns that a line passes between, from the place to the run, and at what height."""
        first, last = self.stacks[place].column, self.stacks[middle].column
        step = 1 if last > first else -1
        return [(column, self.middles[f"{name}|{column}"]) for column in range(first + step, last, step)]


@dataclass(frozen=True, kw_only=True, slots=True)
class Stack:
    """Cards that stand on one another: a thing alone, or a run with its boxes."""

    key: str
    column: int
    cards: tuple[Card, ...]

    @property
    def wide(self) -> float:
        """Width of its column."""
        return width_of(self.column)

    @property
    def high(self) -> float:
        """Height of all its cards."""
        return sum(height(card, self.wide) for card in self.cards)


def schematic(found: Assessment, chosen: str = "", narrow: bool = False) -> str:
    """The picture of the whole plan; `chosen` is the key of the thing that is being worked on."""
    title, told = f"The whole of {found.plan.title}", schematic_words(found)
    if narrow:
        parts, bottom = schematic_list(found, chosen)
        return marks.picture(marks.NARROW, bottom, title, told, parts, name="schematic", live=True)
    scene = _scene(found)
    wide = scene.lefts[-1]
    last = max(scene.middles[stack.key] + stack.high / 2.0 for stack in scene.stacks.values()) + 2.0 * EDGE
    outer, bottom = _around(found, chosen, wide, last)
    parts = [*_lines(found, scene), *_cards(scene, chosen), *outer]
    return marks.picture(wide, bottom, title, told, parts, name="schematic", live=True, scrolls=True)


def _around(found: Assessment, chosen: str, wide: float, top: float) -> tuple[list[str], float]:
    """What is joined to no run, in rows under the rest: what the runs lie in, and who hears them."""
    cards = [space_card(found, key) for key in around(found.plan)]
    if not cards:
        return [], top
    parts, y = [marks.text((EDGE, top + 2.0 * GAP), AROUND, class_="strong")], top + 2.0 * GAP + 10.0
    abreast = max(int((wide - 2.0 * EDGE + GAP) / (RUN + GAP)), 1)
    for at in range(0, len(cards), abreast):
        row = cards[at : at + abreast]
        parts += [drawn(card, EDGE + i * (RUN + GAP), y, RUN, card.key == chosen) for i, card in enumerate(row)]
        y += max(height(card, RUN) for card in row) + GAP
    return parts, y


def _scene(found: Assessment) -> Scene:
    stacks = _stacks(found)
    graph = _graph(found, stacks)
    middles = {key: EDGE + y for key, y in heights(graph, ordered(graph), GAP).items()}
    return Scene(stacks=stacks, middles=middles, lefts=_lefts(graph))


def schematic_words(found: Assessment) -> str:
    """What the plan is made of."""
    plan = found.plan
    told = [
        count(len(plan.room), "room"),
        count(len(plan.mover), "machine"),
        count(len(plan.run), "run"),
        count(sum(1 for run in plan.run for _ in box_cards(found, run)), "box", "boxes"),
    ]
    ways = "; ".join(f"{key} from {_place(run.start)} to {_place(run.end)}" for key, run in plan.run.items())
    return f"{', '.join(told)}. Runs: {ways}."


def width_of(column: int) -> float:
    """Places stand in even columns, runs in odd ones."""
    return RUN if column % 2 else PLACE


def _lefts(graph: Graph) -> tuple[float, ...]:
    """Left edge of every column, and the right edge of the picture."""
    column = {node.key: node.column for node in graph.nodes}
    lefts = [EDGE]
    for at in range(max(column.values()) + 1):
        count_here = sum(column[link.left] == at for link in graph.links)
        lefts.append(lefts[-1] + width_of(at) + min(CHANNEL + PER_LINE * count_here, WIDEST))
    last = max(column.values())
    return _spread((*lefts[:-1], lefts[last] + width_of(last) + EDGE))


def _spread(lefts: tuple[float, ...]) -> tuple[float, ...]:
    """Wider channels where the plan is small, so that it fills the width that a desk's screen has."""
    channels = len(lefts) - 2
    if channels < 1:
        return lefts
    more = min(max(FULL - lefts[-1], 0.0) / channels, LOOSEST - CHANNEL)
    return (*(left + at * more for at, left in enumerate(lefts[:-1])), lefts[-1] + channels * more)


def _place(end: str) -> str:
    return end.partition(".")[0]


def ranks(found: Assessment) -> dict[str, int]:
    """How far inside every place is: spaces, machines, junctions by their distance from a machine, rooms."""
    plan = found.plan
    rank = {key: 0 for key in plan.space if key not in around(plan)} | dict.fromkeys(plan.mover, 1)
    pairs = [(_place(run.start), _place(run.end)) for run in plan.run.values()]
    waiting = set(plan.junction)
    for distance in range(2, len(waiting) + 2):
        near = {key for key in waiting if any(rank.get(other) == distance - 1 for other in _joined(key, pairs))}
        rank |= dict.fromkeys(near, distance)
        waiting -= near
    rank |= dict.fromkeys(waiting, 2)
    rank |= dict.fromkeys(plan.room, max(rank.values(), default=0) + 1)
    used = sorted(set(rank.values()))
    return {key: used.index(value) for key, value in rank.items()}


def _joined(key: str, pairs: list[tuple[str, str]]) -> Iterator[str]:
    for one, other in pairs:
        if key in (one, other):
            yield other if key == one else one


def _stacks(found: Assessment) -> dict[str, Stack]:
    plan, rank = found.plan, ranks(found)
    made: dict[str, Stack] = {}
    makers = (
        ([key for key in plan.space if key in rank], space_card),
        (plan.mover, mover_card),
        (plan.junction, junction_card),
        (plan.room, room_card),
    )
    for things, maker in makers:
        for key in things:
            made[key] = Stack(key=key, column=2 * rank[key], cards=(maker(found, key),))
    for key, run in plan.run.items():
        first, last = rank[_place(run.start)], rank[_place(run.end)]
        column = 2 * max(first, last) + (1 if first == last else -1)
        name = f"run {key}"
        made[name] = Stack(key=name, column=column, cards=(run_card(found, key), *box_cards(found, key)))
    return made


def _graph(found: Assessment, stacks: dict[str, Stack]) -> Graph:
    nodes = [Node(key=stack.key, column=stack.column, high=stack.high) for stack in stacks.values()]
    links: list[Link] = []
    for key, run in found.plan.run.items():
        middle = f"run {key}"
        for place, end in ((_place(run.start), "start"), (_place(run.end), "end")):
            ends = (place, stacks[place].column), (middle, stacks[middle].column)
            bends, found_links = chain(*ends, f"{middle} {end}")
            nodes += bends
            links += found_links
    return Graph(nodes=tuple(nodes), links=tuple(links))


def _ends(found: Assessment) -> Iterator[tuple[str, str, str, bool]]:
    """Both halves of every run: place, stack of the run, name of the line, and whether the air arrives at the run."""
    for key, run in found.plan.run.items():
        yield _place(run.start), f"run {key}", f"run {key} start", True
        yield _place(run.end), f"run {key}", f"run {key} end", False


def _lines(found: Assessment, scene: Scene) -> Iterator[str]:
    """The air's ways, an arrow where each arrives."""
    ports = _ports(found, scene)
    for place, middle, name, onto in _ends(found):
        way = _way(scene, ports, place, middle, name)
        yield from _drawn_way(way if onto else way[::-1])


def _ports(found: Assessment, scene: Scene) -> dict[tuple[str, str], float]:
    """Where each line meets each stack: spread along its side in the order of what lies beyond."""
    sides: dict[tuple[str, bool], list[tuple[float, str]]] = {}
    for place, middle, name, _ in _ends(found):
        inner = [y for _, y in scene.bends(place, middle, name)]
        forth = scene.forth(place, middle)
        sides.setdefault((place, forth), []).append(((inner or [scene.middles[middle]])[0], name))
        sides.setdefault((middle, not forth), []).append(((inner or [scene.middles[place]])[-1], name))
    found_ports = {}
    for (key, _), ends in sides.items():
        span = max(min(scene.stacks[key].high - 2.0 * GAP, 18.0 * (len(ends) - 1)), 8.0)
        for index, (_, name) in enumerate(sorted(ends)):
            share = index / (len(ends) - 1) - 0.5 if len(ends) > 1 else 0.0
            found_ports[key, name] = scene.middles[key] + share * span
    return found_ports


def _way(scene: Scene, ports: dict[tuple[str, str], float], place: str, middle: str, name: str) -> list[marks.XY]:
    """Points of a line from a place to a run; it runs level through every column that it passes."""
    forth = scene.forth(place, middle)
    points = [(scene.side(place, forth), ports[place, name])]
    for column, y in scene.bends(place, middle, name):
        near, far = scene.lefts[column], scene.lefts[column] + width_of(column)
        points += [(near, y), (far, y)] if forth else [(far, y), (near, y)]
    return [*points, (scene.side(middle, not forth), ports[middle, name])]


def _drawn_way(points: list[marks.XY]) -> Iterator[str]:
    d = "M" + f"{marks.number(points[0][0])} {marks.number(points[0][1])}"
    for (x0, y0), (x1, y1) in pairwise(points):
        half = (x0 + x1) / 2.0
        places = ((half, y0), (half, y1), (x1, y1))
        d += "C" + " ".join(f"{marks.number(x)} {marks.number(y)}" for x, y in places)
    yield marks.element("path", d=d, class_="air")
    (x0, _), (x, y) = points[-2], points[-1]
    back = -7.0 if x > x0 else 7.0
    yield marks.area(((x, y), (x + back, y - 4.5), (x + back, y + 4.5)), class_="air-tip")


def _cards(scene: Scene, chosen: str) -> Iterator[str]:
    for stack in scene.stacks.values():
        y = scene.middles[stack.key] - stack.high / 2.0
        for card in stack.cards:
            yield drawn(card, scene.side(stack.key, False), y, stack.wide, card.key == chosen)
            y += height(card, stack.wide)
