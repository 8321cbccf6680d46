"""What each box weighs, by part and assembled, where it is centred, and how large its outside is."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.finding import Finding
from sordino.elements.box import Box
from sordino.elements.box_pieces import Piece, inside_corner, outer_sides
from sordino.elements.built_box import BuiltBox
from sordino.kinds import POUND
from sordino.physics.structure.centre import centre_of_mass
from sordino.plan.statement import Plan
from sordino.tables import table
from sordino.units import show

PLANNING = "An estimate for planning: local code rules, and a licensed engineer decides."


@dataclass(frozen=True, kw_only=True, slots=True)
class Weight:
    """A box or a machine on the scales: masses in kg, sides and centre of mass in m."""

    key: str
    pieces: tuple[Piece, ...]
    whole: float
    outside: tuple[float, float, float]
    """Length, width, height; NaN of a machine whose sides nobody gave."""
    centre: tuple[float, float, float]
    """From the left, the front and the underside of the outside."""

    def of(self, kind: str) -> float:
        """Mass of all pieces of one kind, kg."""
        return sum(piece.mass for piece in self.pieces if piece.kind == kind)

    @property
    def made_of(self) -> dict[str, float]:
        """Masses by what they are called together, kg; duct and insulation only where there are any."""
        always = {"casing": self.of("board"), "dividers": self.of("divider"), "fibre": self.of("fibre")}
        more = {"duct": self.of("duct"), "insulation": self.of("wrap")}
        return always | {words: value for words, value in more.items() if value > 0.0}

    @property
    def heaviest(self) -> Piece | None:
        """The heaviest single piece."""
        parts = [piece for piece in self.pieces if piece.kind != "wrap"]
        return max(parts, key=lambda piece: piece.mass, default=None)


def scatter(key: str) -> float:
    """Half-width of what is known of weights and strengths, as a share; of `tolerance` in m."""
    return float(table("structure/scatter").row("key", key)["half_width"])


def built(plan: Plan, key: str) -> BuiltBox | None:
    """The box as it stands in its run."""
    parts = (part for run in plan.run.values() for part in run.parts)
    return next((part for part in parts if isinstance(part, BuiltBox) and part.box == key), None)


def weights(plan: Plan, only: Collection[str] | None = None) -> dict[str, Weight]:
    """Every box that stands in a run, and every machine of which a stand tells the mass; `only` those keys if given."""
    wanted = [key for key in (*plan.box, *plan.stand) if only is None or key in only]
    found = {key: weight_of(box) for key in wanted if (box := built(plan, key)) is not None}
    for key, stand in plan.stand.items():
        if key in wanted and key in plan.mover and stand.mass is not None:
            sides = stand.outside or (float("nan"),) * 3
            middle = (sides[0] / 2.0, sides[1] / 2.0, sides[2] / 2.0)
            found[key] = Weight(key=key, pieces=(), whole=stand.mass, outside=sides, centre=middle)
    return found


def weight_of(part: BuiltBox) -> Weight:
    """One box."""
    box = part.build
    made = (*part.pieces, *_wrap(box))
    masses = np.array([piece.mass for piece in made])
    x, y, z = centre_of_mass(masses, np.array([piece.centre for piece in made]))
    left, front, under = inside_corner(box)
    thick = box.wrap.thickness
    return Weight(
        key=part.box,
        pieces=made,
        whole=float(masses.sum()),
        outside=wrapped_sides(box),
        centre=(float(x) + left + thick, float(y) + front + thick, float(z) + under + thick),
    )


def _wrap(box: Box) -> Iterator[Piece]:
    """Insulation round the outside as one piece, about the middle."""
    if box.wrap.r > 0.0:
        sides = outer_sides(box)
        area = 2.0 * (sides[0] * sides[1] + sides[1] * sides[2] + sides[2] * sides[0])
        x, y, z = (side / 2.0 - corner for side, corner in zip(sides, inside_corner(box), strict=True))
        long, middle, short = sorted(sides, reverse=True)
        mass = area * box.wrap.surface_mass
        yield Piece(name="wrap", kind="wrap", sides=(long, middle, short), mass=mass, centre=(x, y, z))


def wrapped_sides(box: Box) -> tuple[float, float, float]:
    """Outside length, width and height with the insulation round it, m."""
    length, width, height = (side + 2.0 * box.wrap.thickness for side in outer_sides(box))
    return length, width, height


def weight_findings(plan: Plan, found: dict[str, Weight]) -> Iterator[Finding]:
    """What each weighs."""
    share = scatter("mass")
    for key, weight in found.items():
        yield Finding(
            subject=key,
            question="weight",
            mode="",
            standing="note",
            value=weight.whole,
            low=weight.whole * (1.0 - share),
            high=weight.whole * (1.0 + share),
            unit="kg",
            sentence=_sentence(plan, weight, share),
            method="boards, dividers, fibre and duct by density and size",
            widest="density of the boards" if weight.pieces else "the stated mass",
        )


def _sentence(plan: Plan, weight: Weight, share: float) -> str:
    low, value, high = (mass(plan, weight.whole * factor) for factor in (1.0 - share, 1.0, 1.0 + share))
    words = f"{weight.key} weighs {value} ({low} to {high})"
    heaviest = weight.heaviest
    if heaviest is not None:
        x, y, z = (show(round(value, 2), "length", plan.units) for value in weight.centre)
        words += (
            f"; its heaviest piece, {heaviest.name}, {mass(plan, heaviest.mass)}. It is centred {x} from the left, "
        )
        words += f"{y} from the front and {z} up"
    return f"{words}. {PLANNING}"


def mass(plan: Plan, value: float) -> str:
    """A mass, whole from ten up."""
    number, unit = (value, "kg") if plan.units == "metric" else (value / POUND, "lb")
    return f"{number:.0f} {unit}" if number >= 9.95 else f"{number:.1f} {unit}"
