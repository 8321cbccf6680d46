"""The schematic: everything once, each with its state in words and shape, lines that end where the air arrives."""

from __future__ import annotations

import itertools
import re
from importlib import resources
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import sordino
from sordino.assess.assessment import Assessment, assess
from sordino.elements.built_box import BuiltBox
from sordino.plan.project import read
from sordino.report.verdict import RANK
from sordino.web.pictures import layers
from sordino.web.pictures.cards import AROUND, around
from sordino.web.pictures.schematic import FULL, LOOSEST, ranks, schematic
from sordino.web.pictures.states import sign, state

SVG = "{http://www.w3.org/2000/svg}"
EXAMPLES = (
    "starter",
    "mill-loft",
    "double-wall",
    "party-wall",
    "story-booth",
    "cellar-fan",
    "floor-booth",
    "wide-duct",
)
Corners = tuple[float, float, float, float]


@pytest.fixture(params=EXAMPLES)
def found(request: pytest.FixtureRequest) -> Assessment:
    with resources.as_file(resources.files(sordino) / "examples" / f"{request.param}.toml") as path:
        return assess(read(path), fields=False)


def things(drawn: str) -> dict[tuple[str, str], ElementTree.Element]:
    made = {}
    for link in ElementTree.fromstring(drawn).iter(f"{SVG}a"):
        key = link.get("data-kind", ""), link.get("data-key", "")
        assert key not in made, f"{key} is drawn twice"
        made[key] = link
    return made


def test_everything_is_there_once(found: Assessment) -> None:
    plan = found.plan
    wanted = {("room", key) for key in plan.room} | {("space", key) for key in plan.space}
    wanted |= {("mover", key) for key in plan.mover} | {("run", key) for key in plan.run}
    wanted |= {("junction", key) for key in plan.junction}
    parts = [part for run in plan.run.values() for part in run.parts]
    wanted |= {("box", part.box) for part in parts if isinstance(part, BuiltBox)}
    assert set(things(schematic(found))) == wanted
    listed = set(things(schematic(found, narrow=True)))
    assert {each for each in wanted if each[0] != "space"} <= listed <= wanted


@pytest.mark.parametrize("narrow", [False, True])
def test_each_tells_its_state_in_words_and_by_shape(found: Assessment, narrow: bool) -> None:
    for (kind, key), link in things(schematic(found, narrow=narrow)).items():
        stands = state(found, key)
        signs = [each.get("class") for each in link.iter(f"{SVG}g")]
        if link.get("data-standing") == "none":
            assert kind in ("space", "junction")
            assert not signs
            assert not stands.worst
            continue
        assert link.get("data-standing") == stands.standing
        assert link[0].tag == f"{SVG}title"
        assert stands.words in (link[0].text or "")
        assert signs == [f"sign {stands.standing.replace(' ', '-')}"]
        shown = " ".join(line.text or "" for line in link.iter(f"{SVG}text"))
        assert stands.words.split(":")[0] in shown


def test_signs_differ_in_shape() -> None:
    shapes = {re.sub(r'class="[^"]*"', "", sign(standing, (0.0, 0.0))) for standing in RANK}
    assert len(shapes) == len(RANK)


def test_the_worst_finding_decides() -> None:
    with resources.as_file(resources.files(sordino) / "examples" / "mill-loft.toml") as path:
        found = assess(read(path), fields=False)
    mine = [each.standing for each in found.findings if each.subject == "practice"]
    assert "met" in mine
    assert state(found, "practice").standing == min(mine, key=RANK.index) == "likely missed"
    assert "noise" in state(found, "practice").words
    assert state(found, "nothing of that name").words == "no target"


def card(link: ElementTree.Element) -> Corners:
    numbers = [
        (
            float(each.get("x", "")),
            float(each.get("y", "")),
            float(each.get("width", "")),
            float(each.get("height", "")),
        )
        for each in link
        if each.tag == f"{SVG}rect" and each.get("class") == "card"
    ]
    if numbers:
        x, y, wide, high = numbers[0]
        return x, y, x + wide, y + high
    (outline,) = [each for each in link if each.get("class") == "card"]
    xy = [float(part) for part in re.findall(r"-?[\d.]+", outline.get("d", ""))]
    return min(xy[::2]), min(xy[1::2]), max(xy[::2]), max(xy[1::2])


def curve(d: str) -> list[tuple[float, float]]:
    """Points along a way of cubic arcs."""
    xy = [float(part) for part in re.findall(r"-?[\d.]+", d)]
    points = list(zip(xy[::2], xy[1::2], strict=True))
    found = [points[0]]
    for at in range(1, len(points), 3):
        a, b, c, e = found[-1], *points[at : at + 3]
        for step in range(1, 21):
            t = step / 20.0
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            found.append(
                tuple(sum(w * p[axis] for w, p in zip(weights, (a, b, c, e), strict=True)) for axis in (0, 1))  # type: ignore[arg-type]
            )
    return found


def test_no_card_lies_over_another(found: Assessment) -> None:
    for narrow in (False, True):
        cards = [card(link) for link in things(schematic(found, narrow=narrow)).values()]
        for index, one in enumerate(cards):
            for other in cards[index + 1 :]:
                over = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
                assert min(over) < 0.05


def test_no_line_crosses_a_card(found: Assessment) -> None:
    drawn = schematic(found)
    cards = [card(link) for link in things(drawn).values()]
    ways = re.findall(r'<path d="([^"]*)" class="air"', drawn)
    assert len(ways) == 2 * len(found.plan.run)
    for way in ways:
        for x, y in curve(way):
            assert not [c for c in cards if c[0] + 0.5 < x < c[2] - 0.5 and c[1] + 0.5 < y < c[3] - 0.5]


def test_lines_begin_and_end_at_what_the_run_joins(found: Assessment) -> None:
    drawn = schematic(found)
    made = {key: card(link) for (_, key), link in things(drawn).items()}
    ways = [curve(way) for way in re.findall(r'<path d="([^"]*)" class="air"', drawn)]
    boxes_of = {key: [p.box for p in run.parts if isinstance(p, BuiltBox)] for key, run in found.plan.run.items()}
    for at, (key, run) in enumerate(found.plan.run.items()):
        first, last = ways[2 * at], ways[2 * at + 1]
        stack = [made[key], *(made[box] for box in boxes_of[key])]
        around = stack[0][0], min(c[1] for c in stack), stack[0][2], max(c[3] for c in stack)
        assert touches(first[0], made[run.start.partition(".")[0]])
        assert touches(first[-1], around)
        assert touches(last[0], around)
        assert touches(last[-1], made[run.end.partition(".")[0]])


def touches(point: tuple[float, float], corners: Corners) -> bool:
    x, y = point
    on_side = min(abs(x - corners[0]), abs(x - corners[2])) < 0.1
    return on_side and corners[1] - 0.1 <= y <= corners[3] + 0.1


def test_it_fills_the_width_that_a_desk_has(found: Assessment) -> None:
    """A small plan is spread, a large one keeps its size; no way gets longer than it need be."""
    wide = float(ElementTree.fromstring(schematic(found)).get("viewBox", "").split()[2])
    corners = sorted(card(link) for link in things(schematic(found)).values())
    assert wide >= FULL - 1.0 or max(b[0] - a[2] for a, b in itertools.pairwise(corners)) > LOOSEST - 65.0
    assert max(each[2] for each in corners) == pytest.approx(wide - 6.0)


def test_rooms_are_inmost(found: Assessment) -> None:
    rank = ranks(found)
    inmost = max(rank.values())
    assert {rank[key] for key in found.plan.room} == {inmost}
    spaces = [key for key in found.plan.space if key not in around(found.plan)]
    assert all(rank[key] < inmost for key in (*spaces, *found.plan.mover, *found.plan.junction))


def test_the_chosen_thing_is_marked(found: Assessment) -> None:
    key = next(iter(found.plan.room))
    links = things(schematic(found, key))
    assert [name for (_, name), link in links.items() if link.get("aria-current") == "true"] == [key]


@st.composite
def graphs(draw: st.DrawFn) -> layers.Graph:
    columns = draw(st.lists(st.integers(1, 5), min_size=1, max_size=5))
    nodes = [
        layers.Node(key=f"{column}.{index}", column=column, high=draw(st.floats(8.0, 120.0)))
        for column, count in enumerate(columns)
        for index in range(count)
    ]
    links = [
        layers.Link(left=f"{c}.{draw(st.integers(0, columns[c] - 1))}", right=f"{c + 1}.{draw(st.integers(0, n - 1))}")
        for c, n in enumerate(columns[1:])
        for _ in range(draw(st.integers(0, 6)))
    ]
    return layers.Graph(nodes=tuple(nodes), links=tuple(dict.fromkeys(links)))


@settings(max_examples=60, deadline=None)
@given(graphs())
def test_layout_keeps_things_apart_and_crosses_no_more_than_as_stated(graph: layers.Graph) -> None:
    columns = layers.ordered(graph)
    assert sorted(node.key for column in columns for node in column) == sorted(node.key for node in graph.nodes)
    middles = layers.heights(graph, columns, 10.0)
    for column in columns:
        for one, other in itertools.pairwise(column):
            apart = middles[other.key] - middles[one.key] - (one.high + other.high) / 2.0
            assert apart > 10.0 - 1e-6
    assert min(middles[node.key] - node.high / 2.0 for node in graph.nodes) == pytest.approx(0.0, abs=1e-6)
    stated = layers._columns(graph.nodes)
    assert layers.crossings(graph, columns) <= layers.crossings(graph, stated)


@pytest.mark.parametrize("narrow", [False, True])
def test_what_is_joined_to_no_run_stands_apart_under_its_heading(found: Assessment, narrow: bool) -> None:
    apart, drawn = around(found.plan), schematic(found, "", narrow)
    assert (f">{AROUND}<" in drawn) == bool(apart)
    for key in apart:
        link = things(drawn)["space", key]
        held = sum(run.within == key for run in found.plan.run.values())
        assert (f"{held} run" in " ".join(link.itertext())) == bool(held)
