"""What stands on the pages of one box: its drawings, its boards and sticks, weights, details, order of work."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from sordino.build.hanging import hangers
from sordino.build.kit import Kit
from sordino.build.openings import Opening
from sordino.build.order import Piece
from sordino.build.part import Stick
from sordino.build.steps import Step
from sordino.build.words import ONE_PERSON, OVERHEAD, mass
from sordino.elements.box_planes import Vector
from sordino.elements.buildup import Layer
from sordino.plan.statement import Plan
from sordino.report.book.blocks import Block, Caution, Heading, Page, Picture, Pictures, Points, Table, Words
from sordino.report.book.cautions import ENGINEER, FIRE, LIFTING, PLASTERBOARD_SCREWS
from sordino.report.book.material import BoxMaterial, Material
from sordino.report.drawing.boards import board_sheets, ripped, shelved
from sordino.report.drawing.details import Hung, Strip, hanging, passage
from sordino.report.drawing.exploded import exploded, grown, short
from sordino.report.drawing.measures import measure, pair
from sordino.report.drawing.records import Sheet
from sordino.report.drawing.views import views
from sordino.units import System

COLUMNS = 3
MANY = "Labels on this page begin with the box's name in the lists: {short} is {label}."


def box_pages(book: Material, one: BoxMaterial) -> Iterator[Page]:
    """All pages of one box, its steps excepted."""
    room, units = book.paper.room, book.units
    kit = one.kit
    note = _labels_note(one)
    yield Page(
        title=f"Box {one.name}: plan and sections",
        blocks=(
            Words(
                text=_sizes_note(units) + note + " Of two sizes side by side the nearer is the inside's. "
                "Sticks cut across bear a cross; waves are fibre."
            ),
            Picture(sheet=views(kit, (room[0], room[1] - 12.0), units)),
        ),
    )
    yield Page(
        title=f"Box {one.name}: pulled apart",
        blocks=(
            Words(text=f"The {kit.closing.face} closes it last: {kit.closing.why}.{note} A hollow mark: hidden there."),
            Picture(sheet=exploded(kit, (room[0], min(room[1] - 14.0, 190.0)))),
        ),
    )
    for index, sheet in enumerate(board_sheets(kit.parts, (room[0], room[1] - 12.0), f"Box {one.name}: boards", units)):
        words = _sizes_note(units) + " Each board is seen from its outer side; arrows show the grain."
        if any(part.bevelled for part in kit.parts):
            words += " Outlines are at the long points; broken lines are the other side of a bevelled edge."
        title = sheet.title + (f" ({index + 1})" if index else "")
        yield Page(title=title, blocks=(Words(text=words), Picture(sheet=sheet)))
    yield Page(title=f"Box {one.name}: boards and sticks", blocks=tuple(_lists(one, book)))
    yield Page(title=f"Box {one.name}: through wall and casing", blocks=tuple(_passages(book, one)))
    yield weight_page(book, one)
    yield Page(title=f"Box {one.name}: how it grows", blocks=tuple(_growing(book, one)))


def weight_page(book: Material, one: BoxMaterial) -> Page:
    """What it weighs, who lifts it, and how it may hang."""
    return Page(title=f"Box {one.name}: weight and hanging", blocks=tuple(_hanging(book, one)))


def _sizes_note(units: System) -> str:
    return "All sizes in millimetres." if units == "metric" else "Sizes in feet and inches, to a sixteenth."


def _labels_note(one: BoxMaterial) -> str:
    label = one.kit.parts[0].label
    return "" if short(label) == label else " " + MANY.format(short=short(label), label=label)


def _lists(one: BoxMaterial, book: Material) -> Iterator[Block]:
    units, kit = book.units, one.kit
    masses = dict(one.weight.pieces)
    yield Heading(text="Boards")
    yield Table(
        head=("label", "where", "board", "thickness", "length x width", "grain", "weighs"),
        widths=(2.1, 2.1, 1.5, 1.2, 2.1, 1.0, 1.1),
        left=6,
        rows=tuple(
            (
                part.label,
                where(part),
                part.board,
                measure(part.thickness, units),
                pair(part.size, units),
                {"u": "length", "v": "width", "none": "any"}[part.grain],
                mass(masses[part.label], units),
            )
            for part in kit.parts
        ),
    )
    yield Heading(text="Sticks")
    yield Table(
        head=("label", "what", "where", "section", "length", "weighs"),
        widths=(2.0, 1.5, 2.6, 1.8, 1.4, 1.2),
        left=4,
        rows=tuple(
            (
                stick.label,
                stick.use,
                " / ".join(dict.fromkeys(stick.joins)),
                pair(stick.size, units) + ("" if stick.square else ", ripped"),
                measure(stick.length, units),
                mass(masses[stick.label], units),
            )
            for stick in kit.sticks
        ),
    )
    odd = [stick for stick in kit.sticks if not stick.square]
    if odd:
        yield Heading(text="Sections of ripped sticks")
        room = book.paper.room
        for items in shelved([ripped(stick, units) for stick in odd], (room[0], room[1] - 10.0)):
            yield Picture(sheet=_fitted(items, room[0], f"Box {one.name}: sections of ripped sticks"))


def _fitted(items: list, width: float, title: str) -> Sheet:  # type: ignore[type-arg]
    low = max(text.box[3] for text in Sheet(width=1, height=1, title="", description="", items=tuple(items)).texts)
    return Sheet(width=width, height=low + 3.0, title=title, description=title, items=tuple(items))


def where(piece: Piece) -> str:
    """Where a board goes, in words."""
    if isinstance(piece, Stick):
        return " / ".join(dict.fromkeys(piece.joins))
    return piece.face if piece.kind == "divider" else f"{piece.face}, layer {piece.level + 1}"


def _passages(book: Material, one: BoxMaterial) -> Iterator[Block]:
    """Through the leaves of the wall, then through the boards of the box."""
    room, units, plan = (book.paper.room[0], 58.0), book.units, book.plan
    kit = one.kit
    gap = 1e3 * kit.building.clearance
    for words, layers in walls(plan, kit.run):
        strips = tuple(_strip(layer, units) for layer in layers)
        duct = 1e3 * min(kit.section.width, kit.section.height)
        yield Picture(sheet=passage(words, strips, duct, gap, room, units))
    for words, mouth in _faces(kit):
        if mouth.leans:
            continue
        strips = tuple(_strip(layer, units) for layer in kit.box.layers(mouth.face))
        duct = mouth.diameter or min(mouth.sides or (0.0,))
        yield Picture(sheet=passage(words, strips, duct, mouth.clearance, room, units))
    yield Points(
        items=(
            *(_leaning(mouth) for mouth in kit.openings if mouth.leans),
            "A leaf is one side of the wall. The duct goes through every leaf without touching its boards, and a "
            "length of flexible connector parts what belongs to one leaf from what belongs to the other.",
            "Pack the gap with fibre or backer rod, then a bead of sealant that stays soft, on every leaf, on both of "
            "its sides, all round. A gap of a hair undoes the wall; look behind the duct with a mirror.",
            "Where a rated wall or floor is pierced, the fire stop comes first: ask the authority that has a say.",
        )
    )
    yield Caution(items=(FIRE,))


def walls(plan: Plan, run: str) -> Iterator[tuple[str, tuple[Layer, ...]]]:
    """Shells that a run goes through, with their layers, if the plan states any."""
    ends = {plan.run[run].start.split(".")[0], plan.run[run].end.split(".")[0], plan.run[run].within or ""}
    for name, shell in plan.shell.items():
        if shell.layers is not None and set(shell.between) <= ends:
            places = " to ".join(plan.place_name(place) for place in shell.between)
            yield f"Duct through the {name.replace('-', ' ')}, {places}", shell.layers


def _leaning(mouth: Opening) -> str:
    """What stands in place of a drawing square to the face."""
    return (
        f"The {mouth.name} goes through the {mouth.face} {degrees(mouth.slant):.0f}° off square, so it has no drawing "
        "here: each layer's hole is on the drawing of its board. Set the duct along the slant before it is sealed, and "
        "pack the wedges that its hole leaves in each layer."
    )


def _faces(kit: Kit) -> Iterator[tuple[str, Opening]]:
    """Each mouth; both in one where they go through like boards with like room round them."""
    alike: dict[object, list[Opening]] = {}
    for mouth in kit.openings:
        sizes = mouth.diameter, mouth.sides, round(mouth.clearance, 3), round(mouth.slant, 3)
        key = (kit.box.layers(mouth.face), *sizes)
        alike.setdefault(key, []).append(mouth)
    for mouths in alike.values():
        names = " and ".join(f"{mouth.name} through the {mouth.face}" for mouth in mouths)
        yield f"{names[:1].upper()}{names[1:]}", mouths[0]


def _strip(layer: Layer, units: System) -> Strip:
    if layer.board is not None:
        thick = 1e3 * (layer.thickness or 0.0)
        return Strip(kind="board", words=f"{layer.board} {measure(thick, units)}", thickness=thick)
    if layer.damping:
        return Strip(kind="damping", words="damping compound", thickness=0.0)
    deep = 1e3 * (layer.cavity or 0.0)
    return Strip(kind="cavity", words=f"cavity of {measure(deep, units)}", thickness=deep)


def _hanging(book: Material, one: BoxMaterial) -> Iterator[Block]:
    units, load = book.units, one.weight
    low, high = load.low, load.high
    count = hangers(one.kit)
    left, right = load.loads(count)
    centre = tuple(measure(place - corner, units) for place, corner in zip(load.centre, low, strict=True))
    yield Caution(items=(ENGINEER, PLASTERBOARD_SCREWS, LIFTING))
    yield Table(
        head=("what", "weighs"),
        widths=(3.0, 1.0),
        rows=(
            ("boards", mass(one.kit.board_mass, units)),
            ("sticks", mass(one.kit.stick_mass, units)),
            ("fibre", mass(load.fibre, units)),
            ("the whole box, without duct, screws and sealant", mass(load.whole, units)),
            ("without the boards that close it", mass(load.whole - _lid(one), units)),
            (f"each hanger at the left, of {count // 2}", mass(left, units)),
            (f"each hanger at the right, of {count // 2}", mass(right, units)),
        ),
    )
    yield Words(
        text=f"Its outside is {outside_words(low, high, units)} (length, width, height). The middle of its mass lies "
        f"{centre[0]} from the left, {centre[1]} from the front and {centre[2]} up, all from its outside."
        " Hangers are taken to stand at 15 % and 85 % of its length; each fixing must hold its load "
        "alone if its neighbour fails, so no fixing is chosen for its share only."
    )
    hung = Hung(
        length=high[0] - low[0],
        height=high[2] - low[2],
        mass=mass(load.whole, units),
        loads=(mass(left, units), mass(right, units)),
        centre=load.centre[0] - low[0],
        count=count,
    )
    yield Picture(sheet=hanging(f"Box {one.name}, hung", hung, (book.paper.room[0], 100.0), units))
    yield Points(items=tuple(_lifts(one, units)))


def outside_words(low: Vector, high: Vector, units: System) -> str:
    """Length, width and height."""
    return " x ".join(measure(b - a, units) for a, b in zip(low, high, strict=True))


def _lid(one: BoxMaterial) -> float:
    return sum(part.mass for part in one.kit.lid)


def _lifts(one: BoxMaterial, units: System) -> Iterator[str]:
    """Whether two of us can lift it, where to split it, and what a person may hold over the head."""
    whole = one.weight.whole
    people = int(whole / ONE_PERSON) + 1
    yield (
        f"Can two of us lift it? Two people lift about {mass(2.0 * ONE_PERSON, units)} at a bench: "
        + (
            "this box is within that."
            if whole <= 2.0 * ONE_PERSON
            else f"this box is past it, so {people} people or a hoist; or put it together in place, in the order of "
            "its steps, of which the heaviest piece counts then."
        )
    )
    label, heaviest = max(one.weight.pieces, key=lambda each: each[1])
    yield (
        f"The heaviest single piece is {label} with {mass(heaviest, units)}"
        + (": two people." if heaviest > ONE_PERSON else ": one person lifts it at a bench")
        + ("" if heaviest > ONE_PERSON else ", two over the head." if heaviest > OVERHEAD else ".")
    )


def _growing(book: Material, one: BoxMaterial) -> Iterator[Block]:
    """A small picture of every step that puts something in."""
    width = (book.paper.room[0] - (COLUMNS - 1) * 4.0) / COLUMNS
    pieces = {piece.label: piece for piece in one.kit.pieces}
    done, sheets = list[Piece](), list[tuple[str, Sheet]]()
    for step in one.steps:
        if step.parts:
            added = [pieces[label] for label in step.parts]
            sheets.append((_growth_words(step), grown(one.kit, done, added, (width, 0.82 * width))))
            done += added
    yield Words(text="What each step adds is dark. The words of the steps stand on the pages after this one.")
    yield Pictures(sheets=tuple(sheets), columns=COLUMNS)


def _growth_words(step: Step) -> str:
    labels = [short(label) for label in step.parts]
    told = ", ".join(labels) if len(labels) <= 4 else f"{labels[0]} to {labels[-1]}, {len(labels)} pieces"
    return f"{step.number}. {step.title}: {told}"
