"""Things in columns from left to right, joined by lines that never cross a thing: a plain layered layout.

The order within columns follows the middle of what each thing is joined to, as K. Sugiyama, S. Tagawa and M. Toda, 1981
(from memory), do it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

SWEEPS = 12
BEND = 8.0
"""Height that a line takes where it passes a column, px."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Node:
    """A thing with its column and height; a line that passes a column is one too."""

    key: str
    column: int
    high: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Link:
    """A line between neighbouring columns, from left to right."""

    left: str
    right: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Graph:
    """Things and the lines between neighbours."""

    nodes: tuple[Node, ...]
    links: tuple[Link, ...]

    def beside(self, key: str) -> tuple[str, ...]:
        """What a thing is joined to."""
        left = [link.left for link in self.links if link.right == key]
        return (*left, *(link.right for link in self.links if link.left == key))


def chain(first: tuple[str, int], last: tuple[str, int], name: str) -> tuple[tuple[Node, ...], tuple[Link, ...]]:
    """A line between two things in any two columns, with a bend in every column between."""
    (left, low), (right, high) = sorted((first, last), key=lambda each: each[1])
    bends = tuple(Node(key=f"{name}|{column}", column=column, high=BEND) for column in range(low + 1, high))
    keys = (left, *(bend.key for bend in bends), right)
    return bends, tuple(Link(left=a, right=b) for a, b in pairwise(keys))


def ordered(graph: Graph) -> tuple[tuple[Node, ...], ...]:
    """Columns from the left, each from the top, with few crossings."""
    columns = _columns(graph.nodes)
    best, fewest = columns, crossings(graph, columns)
    for sweep in range(SWEEPS):
        way = range(len(columns)) if sweep % 2 == 0 else range(len(columns) - 1, -1, -1)
        for at in way:
            columns = _sorted(graph, columns, at)
        count = crossings(graph, columns)
        if count < fewest:
            best, fewest = columns, count
    return best


def _columns(nodes: Iterable[Node]) -> tuple[tuple[Node, ...], ...]:
    every = tuple(nodes)
    return tuple(
        tuple(node for node in every if node.column == column) for column in range(max(n.column for n in every) + 1)
    )


def _sorted(graph: Graph, columns: tuple[tuple[Node, ...], ...], at: int) -> tuple[tuple[Node, ...], ...]:
    """One column in the order of the middles of what its things are joined to."""
    place = {node.key: (index + 0.5) / len(column) for column in columns for index, node in enumerate(column)}

    def middle(node: Node) -> float:
        near = [place[key] for key in graph.beside(node.key)]
        return sum(near) / len(near) if near else 2.0

    return (*columns[:at], tuple(sorted(columns[at], key=middle)), *columns[at + 1 :])


def crossings(graph: Graph, columns: tuple[tuple[Node, ...], ...]) -> int:
    """How often lines cross one another."""
    place = {node.key: (node.column, index) for column in columns for index, node in enumerate(column)}
    ends = [(place[link.left], place[link.right]) for link in graph.links]
    return sum(
        a[0] == c[0] and (a[1] - c[1]) * (b[1] - d[1]) < 0
        for index, (a, b) in enumerate(ends)
        for c, d in ends[index + 1 :]
    )


def heights(graph: Graph, columns: tuple[tuple[Node, ...], ...], gap: float) -> dict[str, float]:
    """Middle of every thing, px from the top: near what it is joined to, at least `gap` from the next in its column."""
    middles: dict[str, float] = {}
    for column in columns:
        y = 0.0
        for node in column:
            middles[node.key] = y + node.high / 2.0
            y += node.high + gap
    for sweep in range(SWEEPS):
        for column in columns if sweep % 2 == 0 else columns[::-1]:
            middles |= _spread(graph, column, middles, gap)
    top = min(middles[node.key] - node.high / 2.0 for column in columns for node in column)
    return {key: y - top for key, y in middles.items()}


def _spread(graph: Graph, column: tuple[Node, ...], middles: dict[str, float], gap: float) -> dict[str, float]:
    """A column's things as near to what they are joined to as their order allows (blocks that touch move together)."""
    blocks: list[tuple[list[Node], float, float]] = []
    for node in column:
        near = [middles[key] for key in graph.beside(node.key)]
        wanted = sum(near) / len(near) if near else middles[node.key]
        block = ([node], wanted - node.high / 2.0, node.high)
        while blocks and blocks[-1][1] + blocks[-1][2] + gap > block[1]:
            before = blocks.pop()
            mine, theirs = len(block[0]), len(before[0])
            shifted = block[1] - before[2] - gap
            start = (theirs * before[1] + mine * shifted) / (mine + theirs)
            block = ([*before[0], *block[0]], start, before[2] + gap + block[2])
        blocks.append(block)
    found = {}
    for nodes, start, _ in blocks:
        for node in nodes:
            found[node.key] = start + node.high / 2.0
            start += node.high + gap
    return found
