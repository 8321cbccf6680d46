"""What is cut from what, and what is bought: sheets, bars, fibre, the shopping list and its cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sordino.build.cutting.records import CutPlan, Layout, StickPlan
from sordino.build.lists import Line, Money
from sordino.report.book.blocks import Block, Caution, Heading, Page, Picture, Points, Table, Words
from sordino.report.book.cautions import DUST
from sordino.report.book.material import Material
from sordino.report.drawing.measures import figure, measure, pair
from sordino.report.drawing.sheets import bar_sheets, layout_sheet
from sordino.report.phrases import count
from sordino.units import System, show

FLUID_OUNCE = 29.5735e-6
"""US, m3."""
SPARE = 52.0
"""Room on a page for what is not the drawing of a sheet, mm."""


def stock_pages(book: Material) -> Iterator[Page]:
    """Shopping first, then sheets and bars."""
    yield shopping_page(book)
    if book.quantities.fibre:
        yield fibre_page(book)
    yield summary_page(book)
    for plan in book.cutting.plans:
        for layout in plan.layouts:
            yield Page(title=f"Cut plan: {layout.label}", blocks=tuple(_layout(book, plan, layout)))
    for sticks in book.cutting.sticks:
        yield from _bars(book, sticks)


def shopping_page(book: Material) -> Page:
    """What to buy."""
    return Page(title="Shopping list", blocks=tuple(_shopping(book)))


def fibre_page(book: Material) -> Page:
    """Pieces of fibre."""
    return Page(title="Fibre to cut", blocks=tuple(_fibre(book)))


def summary_page(book: Material) -> Page:
    """Sheets and bars used beside what can be proven."""
    return Page(title="Cut plan: how good it is", blocks=tuple(_summary(book)))


def proofs(book: Material) -> tuple[str, ...]:
    """How near each plan is to what can be proven, in sentences."""
    units = book.units
    return (
        *(f"{_proof(f'{plan.board} {measure(plan.thickness, units)}', plan)}." for plan in book.cutting.plans),
        *(f"{_proof(f'sticks {pair(plan.section, units)}', plan)}." for plan in book.cutting.sticks),
    )


def _summary(book: Material) -> Iterator[Block]:
    units = book.units
    yield Words(
        text="Every cut goes from edge to edge of the piece it is made in, so that a panel saw, or a circular saw on a "
        "rail, can make it. A lower bound is what no such cutting can do with less than; where it is reached, the plan "
        "can't be bettered."
    )
    yield Table(
        head=("board", "sheets used", "no fewer than", "of them bought", "used of them", "kerf", "trim", "searched"),
        widths=(2.3, 1.0, 1.1, 1.1, 1.0, 1.0, 1.0, 1.3),
        rows=tuple(
            (
                f"{plan.board} {measure(plan.thickness, units)}",
                str(plan.sheets),
                str(plan.bound),
                str(plan.bought),
                f"{100 * _used(plan.layouts):.0f} %",
                measure(plan.kerf, units),
                measure(plan.trim, units),
                f"{plan.seconds:.1f} s of {plan.limit:.0f} s",
            )
            for plan in book.cutting.plans
        ),
    )
    yield Points(items=proofs(book))
    lost = [part.label for plan in book.cutting.plans for part in plan.too_large]
    lost += [stick.label for plan in book.cutting.sticks for stick in plan.too_long]
    if lost:
        yield Caution(items=(f"No stock in the plan holds {', '.join(lost)}: state larger stock, or split the box.",))
    yield Caution(items=(DUST,))


def _used(layouts: Sequence[Layout]) -> float:
    whole = sum(layout.sheet.area for layout in layouts)
    return sum(layout.used * layout.sheet.area for layout in layouts) / whole if whole else 0.0


def _proof(name: str, plan: CutPlan | StickPlan) -> str:
    """How near a plan is to what can be proven."""
    if isinstance(plan, CutPlan):
        words = f"{name}: {count(plan.sheets, 'sheet')}, lower bound {plan.bound}"
        gap = f"at most {plan.area_bought - plan.area_bound:.2f} m2 bought could be saved"
    else:
        words = f"{name}: {count(len(plan.bars), 'bar')}, lower bound {plan.bound}"
        gap = f"at most {(plan.length_bought - plan.length_bound) / 1e3:.2f} m bought could be saved"
    told = "proven: nothing less can be bought" if plan.proven else gap
    return f"{words}; {told} ({plan.method}; {plan.seconds:.1f} s of {plan.limit:.0f} s)"


def _layout(book: Material, plan: CutPlan, layout: Layout) -> Iterator[Block]:
    units, room = book.units, book.paper.room
    yield Words(
        text=f"{layout.sheet.name}"
        + (", on hand already" if layout.sheet.owned else "")
        + f". Kerf {measure(plan.kerf, units)}, trim {measure(plan.trim, units)}; the grain runs along its length. "
        f"{100 * layout.used:.0f} % becomes pieces. Numbers are the order of the saw cuts; hatched offcuts are worth "
        f"keeping. {_places(units)}"
    )
    yield Picture(sheet=layout_sheet(layout, (room[0], room[1] - SPARE), units))
    yield Heading(text="Pieces")
    yield Table(
        head=("label", "length x width", "from the left", "from below", "turned", "holes"),
        widths=(2.2, 2.0, 1.2, 1.2, 0.9, 0.8),
        left=2,
        rows=tuple(
            (
                one.label,
                pair(one.part.size, units),
                measure(one.x, units),
                measure(one.y, units),
                "yes" if one.turned else "no",
                str(len(one.part.holes)) if one.part.holes else "",
            )
            for one in layout.placed
        ),
    )
    yield Heading(text="Saw cuts, in order")
    yield Table(
        head=("cut", "runs", "at", "from", "to"),
        widths=(0.6, 1.6, 1.2, 1.2, 1.2),
        left=2,
        rows=tuple(_cut(number, first, last, units) for number, first, last in _cuts(layout)),
    )


def _places(units: System) -> str:
    unit = "millimetres" if units == "metric" else "feet and inches"
    return f"Places are in {unit} from the lower left corner of the sheet to the corner of the piece."


def _cuts(layout: Layout) -> Iterator[tuple[int, tuple[float, float], tuple[float, float]]]:
    return ((cut.number, cut.first, cut.last) for cut in layout.cuts)


def _cut(number: int, first: tuple[float, float], last: tuple[float, float], units: System) -> tuple[str, ...]:
    along = abs(last[0] - first[0]) >= abs(last[1] - first[1])
    axis = 0 if along else 1
    at, ends = first[1 - axis], sorted((first[axis], last[axis]))
    words = "along the sheet" if along else "across the sheet"
    return str(number), words, measure(at, units), measure(ends[0], units), measure(ends[1], units)


def _bars(book: Material, plan: StickPlan) -> Iterator[Page]:
    units, room = book.units, book.paper.room
    name = pair(plan.section, units)
    sheets = bar_sheets(plan.bars, (room[0], room[1] - 30.0), f"Sticks {name}", units) if plan.bars else ()
    rows = tuple(
        (
            bar.label,
            bar.stock.name + (", on hand" if bar.stock.owned else ""),
            ", ".join(f"{one.label} {figure(one.stick.length, units)}" for one in bar.cut),
            measure(bar.rest, units),
        )
        for bar in plan.bars
    )
    table = Table(head=("bar", "from", "cut, in order", "left over"), widths=(0.8, 2.0, 4.5, 1.0), left=3, rows=rows)
    told = Words(text=_proof(f"Sticks {name}", plan) + f". Kerf {measure(plan.kerf, units)}.")
    for index, sheet in enumerate(sheets):
        title = f"Cut plan: sticks {name}" + (f" ({index + 1})" if index else "")
        before = () if index else (told,)
        after = (table,) if index + 1 == len(sheets) else ()
        yield Page(title=title, blocks=(*before, Picture(sheet=sheet), *after))


def _shopping(book: Material) -> Iterator[Block]:
    units, quantities, cost = book.units, book.quantities, book.cost
    yield Words(text=cost_words(book))
    groups = dict.fromkeys(line.group for line in quantities.lines)
    for group in groups:
        lines = [line for line in quantities.lines if line.group == group]
        yield Heading(text=group.capitalize())
        yield Table(
            head=("what", "needed", "sold by", "packs", f"costs, {cost.currency}", "priced"),
            widths=(3.4, 1.2, 1.9, 0.7, 1.4, 1.2),
            left=1,
            rows=tuple(_shop_row(line, units) for line in lines),
        )
    yield Heading(text="How each need was found")
    yield Points(items=tuple(f"{line.name}: {line.rule}" for line in quantities.lines))
    if quantities.cautions:
        yield Caution(items=quantities.cautions)


def cost_words(book: Material) -> str:
    """What it costs, how that stands to the budget, and how good the prices are."""
    cost = book.cost
    words = f"All of it costs {money(cost.whole)} {cost.currency}"
    if cost.budget is not None:
        words += f"; the budget is {cost.budget:,.0f} {cost.currency}{_over(cost.overspend, cost.currency)}"
    words += "."
    if cost.invented:
        words += (
            f" {count(cost.invented, 'price')}, marked *, nobody asked a shop for: write your own into the project "
            "file or into lists/shopping.csv."
        )
    return words + (f" The oldest price is of {cost.oldest}." if cost.oldest else "")


def _shop_row(line: Line, units: System) -> tuple[str, ...]:
    star = "*" if line.price.invented else ""
    return line.name, amount(line, units), line.pack, str(line.packs), money(line.cost) + star, line.price.dated or "–"


def amount(line: Line, units: System) -> str:
    """What is needed, in its measure."""
    if line.measure == "pieces":
        return f"{line.need:.0f}"
    if line.measure == "volume":
        return f"{line.need / FLUID_OUNCE:.0f} fl oz" if units == "inch" else f"{1e3 * line.need:.1f} L"
    return show(line.need, line.measure, units)


def money(value: Money) -> str:
    """A range in whole money."""
    low, high = f"{value.low:,.0f}", f"{value.high:,.0f}"
    return low if low == high else f"{low} to {high}"


def _over(over: Money | None, currency: str) -> str:
    if over is None or over.high <= 0.0:
        return "" if over is None else ", which holds"
    return f", which is overspent by {money(over)} {currency}"


def _fibre(book: Material) -> Iterator[Block]:
    units = book.units
    yield Words(text="Thickness as it lies in the box, and loose as it comes from the bag.")
    yield Table(
        head=("label", "box", "where", "length x width", "thick", "loose", "pieces"),
        widths=(1.9, 1.7, 2.6, 2.0, 1.0, 1.0, 0.8),
        left=3,
        rows=tuple(
            (
                piece.label,
                piece.box,
                piece.place,
                pair((piece.length, piece.width), units),
                measure(piece.thickness, units),
                measure(piece.loose, units),
                str(piece.count),
            )
            for piece in book.quantities.fibre
        ),
    )
    yield Caution(items=(DUST,))
