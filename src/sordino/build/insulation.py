"""Fibre of one box as pieces to cut: which product, how many layers, and how far they are pressed together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot, log

from sordino.build.kit import Kit
from sordino.build.lists import FibrePiece
from sordino.physics.wave import prism as wave
from sordino.tables import table
from sordino.units import System, show

MM = 1e3
SLACK = 0.97
"""Batts may fall short of the space by this share before one more goes in: they swell."""
FAR = 0.25
"""Share by which the density in the box may be off before it is told."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Product:
    """One kind of fibre as it is sold, mm and kg/m3."""

    name: str
    thickness: float
    length: float
    width: float
    density: float
    pieces: int
    squeeze: float

    @property
    def area(self) -> float:
        """Of one pack, m2."""
        return 1e-6 * self.length * self.width * self.pieces

    def layers(self, thickness: float, density: float) -> int:
        """How many fill a space that thick at that density; at least enough to fill it, and none pressed too far."""
        fills = max(ceil(SLACK * thickness / self.thickness - 1e-9), 1)
        wanted = round(thickness * density / (self.thickness * self.density))
        most = max(int(self.squeeze * thickness / self.thickness + 1e-9), fills)
        return min(max(wanted, fills), most)

    def pressed(self, thickness: float, density: float) -> bool:
        """Whether they would have to be pressed together further than they take."""
        return self.layers(thickness, density) * self.thickness > self.squeeze * thickness + 1e-6

    def achieved(self, thickness: float, density: float) -> float:
        """Density in the box, kg/m3."""
        return self.layers(thickness, density) * self.thickness * self.density / thickness


@dataclass(frozen=True, kw_only=True, slots=True)
class _Space:
    """Where fibre goes, mm."""

    place: str
    length: float
    width: float
    thickness: float


def products(units: System) -> tuple[Product, ...]:
    """What is sold in a region."""
    known = table("build/fibre")
    return tuple(
        Product(
            name=row[0],
            thickness=float(row[2]),
            length=float(row[3]),
            width=float(row[4]),
            density=float(row[5]),
            pieces=int(row[6]),
            squeeze=float(row[7]),
        )
        for row in known.rows
        if row[1] == units
    )


def product_for(kit: Kit, units: System) -> Product:
    """The product whose density in the box comes nearest to the plan's, of those that needn't be pressed too far."""
    spaces, density = tuple(_spaces(kit)), kit.box.fill.density

    def off(product: Product) -> float:
        return sum(
            one.length * one.width * one.thickness * abs(log(product.achieved(one.thickness, density) / density))
            for one in spaces
        )

    def too_far(product: Product) -> bool:
        return any(product.pressed(one.thickness, density) for one in spaces)

    return min(products(units), key=lambda product: (too_far(product), round(off(product), 3), product.thickness))


def fibre_pieces(kit: Kit, units: System, prefix: str = "") -> tuple[FibrePiece, ...]:
    """Every piece, labelled F1, F2, ...; corners counted in both pieces that meet there, mouths not taken off."""
    product, density = product_for(kit, units), kit.box.fill.density
    found = []
    for number, one in enumerate(_spaces(kit), 1):
        layers = product.layers(one.thickness, density)
        found.append(
            FibrePiece(
                label=f"{prefix}F{number}",
                box=kit.name,
                place=one.place,
                length=one.length,
                width=one.width,
                thickness=one.thickness / layers,
                loose=product.thickness,
                count=layers,
            )
        )
    return tuple(found)


def density_note(kit: Kit, units: System) -> str | None:
    """A sentence where no product comes near the density that the plan counts with."""
    product, density = product_for(kit, units), kit.box.fill.density
    spaces = tuple(_spaces(kit))
    volume = sum(one.length * one.width * one.thickness for one in spaces)
    if not spaces:
        return None
    got = (
        sum(one.length * one.width * one.thickness * product.achieved(one.thickness, density) for one in spaces)
        / volume
    )
    if abs(got / density - 1.0) <= FAR:
        return None
    return (
        f"{kit.name}: {product.name} makes about {show(got, 'density', units)} in the box, and the plan counts with "
        f"{show(density, 'density', units)}: "
        "buy another kind, or write fill.density as it will be"
    )


def _spaces(kit: Kit) -> Iterator[_Space]:
    prism = kit.made.prism
    for region in prism.regions:
        if region.fluid == 0:
            continue
        if prism.tube is not None and set(region.polygon) == set(wave.outline(prism)):
            yield from _round_duct(prism)
        else:
            yield _space(region, prism)


def _round_duct(prism: wave.Prism) -> Iterator[_Space]:
    """Each pass filled with batts that stand in the profile's plane, layer behind layer, cut out round the duct."""
    lying = [divider for divider in prism.dividers if not divider.across_x]
    levels = sorted({0.0, prism.height, *((divider.z0 + divider.z1) / 2.0 for divider in lying)})
    for number, (low, high) in enumerate(pairwise(levels), 1):
        place = f"filling of pass {number}, cut out round the duct" if len(levels) > 2 else "filling round the duct"
        yield _Space(place=place, length=MM * prism.length, width=MM * (high - low), thickness=MM * prism.width)


def _space(region: wave.Region, prism: wave.Prism) -> _Space:
    """A lining: its three sides, the least of them its thickness."""
    ring = region.polygon
    edges = [hypot(c - a, d - b) for (a, b), (c, d) in zip(ring, (*ring[1:], ring[0]), strict=True)]
    area = abs(sum(a * d - b * c for (a, b), (c, d) in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2.0
    sides = (
        (max(edges), area / max(edges), region.back - region.front)
        if len(ring) == 4 and set(ring) != set(wave.outline(prism))
        else (prism.length, prism.height, region.back - region.front)
    )
    thin, wide, long = sorted(MM * side for side in sides)
    return _Space(place=_place(region, prism, thin / MM), length=long, width=wide, thickness=thin)


def _place(region: wave.Region, prism: wave.Prism, thickness: float) -> str:
    key = _key(region)
    for face in wave.FACES:
        if "slope" in face and not (prism.left if face[:4] == "left" else prism.right).run:
            continue
        if _key(wave.lining(prism, face, thickness, 1)) == key:
            return f"lining on the {face}"
    corners = [z for _, z in region.polygon]
    for number, divider in enumerate(prism.dividers, 1):
        if abs(max(corners) - divider.z0) < 1e-6:
            return f"lining under divider {number}"
        if abs(min(corners) - divider.z1) < 1e-6:
            return f"lining on divider {number}"
    return "lining"


def _key(region: wave.Region) -> tuple[frozenset[tuple[float, float]], float, float]:
    ring = frozenset((round(x, 6), round(z, 6)) for x, z in region.polygon)
    return ring, round(region.front, 6), round(region.back, 6)
