"""The shopping list of a project: what goes in, by which rule it was counted, and how many packs that is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from math import ceil

from sordino.build.cutting.records import CutPlan, Cutting, StickPlan
from sordino.build.cutting.words import bars_standing, sheets_standing
from sordino.build.ducting import Item, items
from sordino.build.hanging import CAUTION, hangers
from sordino.build.insulation import density_note, fibre_pieces, product_for
from sordino.build.kit import Kit
from sordino.build.lists import FibrePiece, Group, Line, Measure, Price, Quantities
from sordino.build.prices import price_for
from sordino.build.rules import rule, with_waste
from sordino.build.screws import screws
from sordino.build.sealing import beads, damped_area, gasket
from sordino.build.words import long
from sordino.plan.statement import Plan
from sordino.tables import table
from sordino.units import show

MM = 1e3
NEAR = 1e-9
Prices = Mapping[str, Price]
GROUPS: tuple[Group, ...] = ("boards", "sticks", "fibre", "ducts", "sealing", "damping", "fixings", "hanging")
"""In the order of the list."""


def quantities(plan: Plan, kits: tuple[Kit, ...], cut: Cutting, prices: Prices | None = None) -> Quantities:
    """Everything to buy for all boxes and runs; `prices` come before those of the project."""
    listed = prices or {}
    pieces = tuple(piece for kit in kits for piece in fibre_pieces(kit, plan.units, _prefix(kit, kits)))
    lines = (
        *(line for one in cut.plans for line in _sheets(one, plan, listed)),
        *(line for one in cut.sticks for line in _bars(one, plan, listed)),
        *_fibre(kits, pieces, plan, listed),
        *_packed(_counted(plan, kits), plan, listed),
    )
    known = {group: place for place, group in enumerate(GROUPS)}
    return Quantities(
        lines=tuple(sorted(lines, key=lambda line: known[line.group])),
        fibre=pieces,
        cautions=tuple(_cautions(plan, kits, cut, {line.key for line in lines}, listed)),
    )


def _prefix(kit: Kit, kits: tuple[Kit, ...]) -> str:
    return f"{kit.name} " if len(kits) > 1 else ""


def _sheets(one: CutPlan, plan: Plan, listed: Prices) -> Iterator[Line]:
    used = Counter(layout.sheet for layout in one.layouts)
    told = sheets_standing(one, plan.units)
    for sheet, count in used.items():
        volume = 1e-9 * sheet.area * sheet.thickness
        yield Line(
            key=sheet.name,
            group="boards",
            name=sheet.name,
            measure="pieces",
            need=float(count),
            pack="sheet",
            packs=0 if sheet.owned else count,
            rule=f"{count} of those on hand" if sheet.owned else f"by the cut plan: {told}",
            price=price_for(sheet.name, sheet.board, volume, plan.build, listed),
        )


def _bars(one: StickPlan, plan: Plan, listed: Prices) -> Iterator[Line]:
    used = Counter(bar.stock for bar in one.bars)
    for stock, count in used.items():
        volume = 1e-9 * stock.section[0] * stock.section[1] * stock.length
        yield Line(
            key=stock.name,
            group="sticks",
            name=stock.name,
            measure="pieces",
            need=float(count),
            pack="bar",
            packs=0 if stock.owned else count,
            rule=f"{count} of those on hand" if stock.owned else f"by the cut plan: {bars_standing(one, plan.units)}",
            price=price_for(stock.name, "stick", volume, plan.build, listed),
        )


def _fibre(kits: tuple[Kit, ...], pieces: tuple[FibrePiece, ...], plan: Plan, listed: Prices) -> Iterator[Line]:
    """One line for each product: area with waste, in whole packs."""
    areas: dict[str, float] = {}
    for kit in kits:
        name = product_for(kit, plan.units).name
        areas[name] = areas.get(name, 0.0) + sum(piece.area for piece in pieces if piece.box == kit.name)
    by_name = {product_for(kit, plan.units).name: product_for(kit, plan.units) for kit in kits}
    for name, area in areas.items():
        product, need = by_name[name], with_waste(area, "fibre waste")
        if area <= 0.0:
            continue
        yield Line(
            key=name,
            group="fibre",
            name=name,
            measure="area",
            need=need,
            pack=f"pack of {show(product.area, 'area', plan.units)}",
            packs=_whole(need, product.area),
            rule=f"all layers of all pieces, corners counted twice, and {rule('fibre waste'):.0%} waste",
            price=price_for(name, "fibre", product.area * product.thickness / 50.0, plan.build, listed),
        )


def _whole(need: float, pack: float) -> int:
    return ceil(need / pack - NEAR)


def _counted(plan: Plan, kits: tuple[Kit, ...]) -> Iterator[tuple[str, str, float, str]]:
    """Kind, size as it is read, amount in its measure, and the rule, of all that is sold by packs of its own."""
    for item in items(plan, kits):
        yield item.kind, "" if item.size is None else item.size.shown(plan.units), item.amount, _duct_rule(item, plan)
    volume = sum(bead.volume for kit in kits for bead in beads(kit))
    metres = sum(bead.length for kit in kits for bead in beads(kit)) / MM
    yield "sealant", "", with_waste(volume, "sealant waste"), _sealant_rule(metres, plan)
    soft = sum(gasket(kit) for kit in kits) / MM
    yield "gasket", show(plan.build.gasket, "length", plan.units), soft, "all round the boards that come off again"
    coat = sum(damped_area(kit) for kit in kits)
    told = f"{show(coat, 'area', plan.units)}, two tubes of 828 mL on a 4 x 8 ft sheet"
    told += f", and {rule('damping waste'):.0%} waste"
    yield "damping", "", with_waste(coat * rule("damping coat"), "damping waste"), told
    for length, count in sum((Counter(screws(kit)) for kit in kits), Counter[float]()).items():
        apart = show(plan.build.screws, "length", plan.units)
        told = f"{apart} apart along joints and sticks, {rule('screw spare'):.0%} spare"
        yield "screw", long(length, plan.units), ceil(with_waste(count, "screw spare") - NEAR), told
    count = sum(hangers(kit) for kit in kits)
    told = "at least four a box, one for each 25 kg; an engineer decides"
    for kind in ("hanger", "isolator", "cable"):
        yield kind, "", float(count), told


def _sealant_rule(metres: float, plan: Plan) -> str:
    bead, angle = long(rule("bead"), plan.units), long(rule("fillet"), plan.units)
    waste = f"{rule('sealant waste'):.0%} waste"
    return f"{show(metres, 'length', plan.units)} of beads ({bead} round) and fillets ({angle}), {waste}"


def _duct_rule(item: Item, plan: Plan) -> str:
    return {
        "flexible": "fully stretched: length as installed and its tails, over 1 less the slack",
        "metal": "as installed",
        "collar": "one in each mouth of a box",
        "clamp": "one on each end of a flexible duct; its core and its jacket in one",
        "tape": "two turns round every joint",
        "strap": f"one support every {long(rule('strap distance'), plan.units)} of flexible duct",
    }.get(item.kind, "as in the runs")


def _packed(counted: Iterator[tuple[str, str, float, str]], plan: Plan, listed: Prices) -> Iterator[Line]:
    known = table("build/pack")
    for kind, size, need, told in counted:
        if need <= 0.0:
            continue
        row = known.row("kind", kind)
        name = row["name"].replace("{size}", size).replace("{length}", size)
        yield Line(
            key=name,
            group=_group(row["group"]),
            name=name,
            measure=_measure(row["measure"]),
            need=need,
            pack=row["pack"],
            packs=_whole(need, float(row["size"])),
            rule=told,
            price=price_for(name, kind, 1.0, plan.build, listed),
        )


def _group(text: str) -> Group:
    return next(group for group in GROUPS if group == text)


def _measure(text: str) -> Measure:
    measures: tuple[Measure, ...] = ("pieces", "length", "area", "volume")
    return next(measure for measure in measures if measure == text)


def _cautions(plan: Plan, kits: tuple[Kit, ...], cut: Cutting, keys: set[str], listed: Prices) -> Iterator[str]:
    for one in cut.plans:
        for part in one.too_large:
            sides = " x ".join(long(side, plan.units) for side in part.size)
            yield (
                f"{part.label} ({sides}) is larger than every sheet of {one.board} that is left: state a larger one "
                "under [[build.stock]], or make the box smaller"
            )
    for bars in cut.sticks:
        for stick in bars.too_long:
            told = long(stick.length, plan.units)
            yield f"{stick.label} ({told}) is longer than every bar in stock: state a longer one under [[build.bars]]"
    for kit in kits:
        note = density_note(kit, plan.units)
        if note is not None:
            yield note
    for name in (*plan.build.price, *listed):
        if name not in keys:
            yield f"a price is stated for {name!r}, but nothing on the list is called so"
    if kits:
        yield CAUTION
