"""Every picture: sound XML, told in words, no script, only colours of the look, hostile names as text, no overlaps."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from importlib import resources
from itertools import combinations
from xml.etree import ElementTree

import pytest

import sordino
from boxed import BOXES, boxed
from small import FAN, ROOMS, written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.box_answer import BoxAnswer, box_answer, indoor_air, standing
from sordino.assess.box_picture import BoxPicture, box_picture
from sordino.plan.project import read
from sordino.report.drawing import palette
from sordino.web.pictures import marks
from sordino.web.pictures.box_loss import box_loss
from sordino.web.pictures.box_section import box_section
from sordino.web.pictures.field import field
from sordino.web.pictures.schematic import schematic
from sordino.web.pictures.session import session
from sordino.web.pictures.spectrum import spectrum

SVG = "{http://www.w3.org/2000/svg}"
EXAMPLES = ("starter", "mill-loft", "song-den", "double-wall", "party-wall", "wide-duct", "story-booth", "drum-shed")
HOSTILE = "<script>alert(1)</script>\"&'><img src=x onerror=y>"
LINE = (0.76, 0.24)
"""How far lettering reaches over and under its base line, over its size."""


@cache
def example(name: str) -> Assessment:
    with resources.as_file(resources.files(sordino) / "examples" / f"{name}.toml") as path:
        return assess(read(path), fields=False)


@cache
def picture_of(name: str) -> BoxPicture:
    plan = boxed(name)
    built = standing(plan, name).built
    return box_picture(built.build, built.section, indoor_air(plan), (80.0, 250.0))


@cache
def answer_of(name: str) -> BoxAnswer:
    return box_answer(boxed(name), name)


def whole(name: str, narrow: bool) -> str:
    return schematic(example(name), next(iter(example(name).plan.room)), narrow)


def heard(name: str, narrow: bool) -> str:
    found = example(name)
    return spectrum(found, *next(reversed(found.noise)), narrow)


def followed(name: str, narrow: bool) -> str:
    found = example(name)
    modes = list(found.indoors.sessions)
    return session(found, next(reversed(found.plan.room)), modes[-1], found.plan.units, narrow)


def sectioned(name: str, narrow: bool) -> str:
    return box_section(picture_of(name), name, "inch" if narrow else "metric", narrow)


def lost(name: str, narrow: bool) -> str:
    return box_loss(answer_of(name), name, narrow)


def inside(name: str, narrow: bool) -> str:
    return field(picture_of(name), name, 240.0, narrow)


Maker = Callable[[str, bool], str]
OF_PLANS: tuple[Maker, ...] = (whole, heard, followed)
OF_BOXES: tuple[Maker, ...] = (sectioned, inside)
CASES: list[tuple[Maker, str, bool]] = [
    *((maker, name, narrow) for maker in OF_PLANS for name in EXAMPLES for narrow in (False, True)),
    *((maker, name, narrow) for maker in OF_BOXES for name in BOXES for narrow in (False, True)),
    *((lost, name, narrow) for name in ("labyrinth", "serpentine", "straight") for narrow in (False, True)),
]


@pytest.fixture(params=CASES, ids=lambda case: f"{case[0].__name__}-{case[1]}-{'narrow' if case[2] else 'wide'}")
def drawn(request: pytest.FixtureRequest) -> str:
    maker, name, narrow = request.param
    return maker(name, narrow)


def test_it_is_told_in_words_and_holds_no_script(drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    first, second = list(root)[:2]
    assert (first.tag, second.tag) == (f"{SVG}title", f"{SVG}desc")
    assert len(first.text or "") > 5
    assert len(second.text or "") > 20
    assert root.get("aria-label") == first.text
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {
        *("svg", "title", "desc", "g", "a", "text", "rect", "path", "circle", "defs", "pattern", "clipPath"),
    }
    assert not [key for element in root.iter() for key in element.attrib if key.startswith("on")]


def test_colours_are_those_of_the_look(drawn: str) -> None:
    """Only the scale of levels has colours of its own, since they mean a level."""
    used = set(re.findall(r"#[0-9a-f]{3,8}\b", re.sub(r'(url\(|href=")#[^")]*', "", drawn)))
    assert used <= set(palette.colours())


def test_every_class_is_styled(drawn: str) -> None:
    style = (resources.files(sordino) / "web" / "static" / "look.css").read_text("utf-8")
    classes = {word for found in re.findall(r'class="([^"]*)"', drawn) for word in found.split()}
    unpainted = {"ink", "drawn", "sound", "schematic", "spectrum", "section", "field", "loss", "session", "solved"}
    unpainted |= {"box", "run"}
    assert not [name for name in classes - unpainted if not re.search(rf"\.{re.escape(name)}(?![\w-])", style)]


def test_ids_are_unique_and_found(drawn: str) -> None:
    ids = re.findall(r' id="([^"]*)"', drawn)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]*)\)", drawn)) <= set(ids)


def boxes(root: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    """Lettering with the room it takes, px; that which is turned lies along its line."""
    found = []
    scale = 1.0

    def walk(element: ElementTree.Element, scale: float, shift: tuple[float, float]) -> None:
        transform = element.get("transform", "")
        if grown := re.match(r"scale\(([\d.]+)\)", transform):
            scale *= float(grown[1])
        if moved := re.match(r"translate\(([\d.-]+) ([\d.-]+)\)", transform):
            shift = shift[0] + float(moved[1]), shift[1] + float(moved[2])
        if element.tag == f"{SVG}text" and element.text and not transform.startswith("rotate"):
            size = scale * float(element.get("font-size", "12"))
            long = marks.width(element.text, size)
            x = scale * float(element.get("x", "0")) + shift[0]
            y = scale * float(element.get("y", "0")) + shift[1]
            x -= long * {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor", "start")]
            found.append((element.text, x, y - LINE[0] * size, x + long, y + LINE[1] * size))
        for child in element:
            walk(child, scale, shift)

    walk(root, scale, (0.0, 0.0))
    return found


def test_no_lettering_lies_over_other_lettering(drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    for one, other in combinations(boxes(root), 2):
        over = min(one[3], other[3]) - max(one[1], other[1]), min(one[4], other[4]) - max(one[2], other[2])
        assert min(over) < 0.6, f"{one[0]!r} lies over {other[0]!r}"


def test_all_lettering_lies_within_the_picture(drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    _, _, wide, high = (float(part) for part in root.get("viewBox", "").split())
    for words, left, upper, right, lower in boxes(root):
        assert left > -1.0, words
        assert right < wide + 1.0, words
        assert upper > -1.0, words
        assert lower < high + 1.0, words


def test_lettering_is_large_enough_to_read(drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    assert min((lower - upper for _, _, upper, _, lower in boxes(root)), default=12.0) > 9.9


@pytest.mark.parametrize("narrow", [False, True])
def test_hostile_names_are_shown_as_text(narrow: bool) -> None:
    quoted = HOSTILE.replace("\\", "\\\\").replace('"', '\\"')
    rooms = ROOMS.replace("[room.there]", f'[room.there]\nname = "{quoted}"\nuse = "recording"')
    plan = written(f'title = "{quoted}"\n{rooms}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n')
    found = assess(plan, fields=False)
    for drawing in (
        schematic(found, "", narrow),
        spectrum(found, "there", "normal", narrow),
        session(found, "there", "normal", "metric", narrow),
    ):
        assert HOSTILE in (ElementTree.fromstring(drawing)[0].text or "")
        assert "<script" not in drawing
        assert "<img" not in drawing


def test_names_of_drawings_hold_no_strange_letters() -> None:
    made = box_section(picture_of("labyrinth"), 'a"b <c>é', "metric")
    ElementTree.fromstring(made)
    assert all(re.fullmatch(r"[\w-]+", each, re.ASCII) for each in re.findall(r' id="([^"]*)"', made))


@pytest.mark.parametrize("maker", [sectioned, inside])
def test_two_drawings_on_one_page_share_no_ids(maker: Maker) -> None:
    made = [maker(name, narrow) for name in ("labyrinth", "serpentine") for narrow in (False, True)]
    ids = [each for drawing in made for each in re.findall(r' id="([^"]*)"', drawing)]
    assert len(ids) == len(set(ids)) > 0
