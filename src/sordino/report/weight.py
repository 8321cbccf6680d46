"""What boxes weigh and hang from, who lifts them, and whether they fit, as tables."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.fit import SIDES, Fit
from sordino.assess.hanging import Bearing, Hang
from sordino.assess.lifting import Lifted
from sordino.assess.passing import Passage
from sordino.assess.weight import PLANNING, Weight, mass
from sordino.kinds import INCH
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.units import show

SECOND = "Give whatever hangs a second way to stay up, as a cable, and isolators that hold it when they tear."


def structure(found: Assessment) -> list[str]:
    """All tables of weight, hanging, lifting and fit; nothing where no box stands."""
    lines = [*weights(found), *hanging(found), *lifting(found), *fit(found)]
    return [*lines, *layout.paragraph(PLANNING)] if lines else []


def weights(found: Assessment) -> list[str]:
    """Mass by part, outside and centre of mass of every box and machine."""
    rows = [_weight_row(found, weight) for weight in found.structure.weights.values()]
    if not rows:
        return []
    head = ["box", "casing", "dividers", "fibre", "duct", "whole", "outside", "centred at"]
    return [*layout.heading("What it weighs"), *layout.grid(head, rows)]


def _weight_row(found: Assessment, weight: Weight) -> list[str]:
    parts = [weight.of(kind) for kind in ("board", "divider", "fibre", "duct")]
    told = [mass(found.plan, part) if part > 0.0 else layout.NOTHING for part in parts]
    return [
        weight.key,
        *told,
        mass(found.plan, weight.whole),
        sides(found.plan, weight.outside),
        sides(found.plan, weight.centre),
    ]


def sides(plan: Plan, lengths: Sequence[float]) -> str:
    """Three lengths, their unit once at the end."""
    if np.isnan(lengths).any():
        return layout.NOTHING
    if plan.units == "metric":
        return " x ".join(f"{1e3 * length:.0f}" for length in lengths) + " mm"
    return " x ".join(f"{length / INCH:.4g}" for length in lengths) + " in"


def hanging(found: Assessment) -> list[str]:
    """Load on the most loaded hanger, what it may carry, the joists, the isolators."""
    stood = found.structure
    if not stood.hangs:
        return []
    head = ["hangs", "from", "mass", "most on one", "may carry", "rings at", "lets through"]
    rows = [_hang_row(found, hang) for hang in stood.hangs]
    under = ["joists", "bent to", "sag", "may sag", "hung per area"]
    return [
        *layout.heading("What hangs, and from what"),
        *layout.grid(head, rows, left=2),
        "",
        *layout.grid(under, [_bearing_row(found, bearing) for bearing in stood.bearings]),
        *layout.paragraph(SECOND),
    ]


def _hang_row(found: Assessment, hang: Hang) -> list[str]:
    system = found.plan.units
    rings = layout.NOTHING if np.isnan(hang.ringing) else f"{hang.ringing:.1f} Hz"
    passes = layout.NOTHING if np.isnan(hang.passes) else f"{100.0 * hang.passes:.0f} %"
    loads = [show(force, "force", system) for force in (hang.load, hang.may_carry)]
    return [hang.key, hang.joists, mass(found.plan, hang.mass), *loads, rings, passes]


def _bearing_row(found: Assessment, bearing: Bearing) -> list[str]:
    system = found.plan.units
    sags = [show(round(value, 4), "length", system) for value in (bearing.sag, bearing.limit)]
    return [bearing.joists, f"{100.0 * bearing.used:.0f} %", *sags, show(bearing.added, "surface mass", system)]


def lifting(found: Assessment) -> list[str]:
    """The heaviest thing that is lifted in one go, and by whom."""
    if not found.structure.lifted:
        return []
    head = ["box", "lifted at once", "mass", "one may lift", "they may lift", "it takes"]
    rows = [_lift_row(found, each) for each in found.structure.lifted]
    return [*layout.heading("Who lifts it"), *layout.grid(head, rows, left=2)]


def _lift_row(found: Assessment, each: Lifted) -> list[str]:
    plan = found.plan
    lift = plan.stand[each.key].lift
    takes = "a hoist" if not each.persons or (lift is not None and lift.hoist) else f"{each.persons} or more"
    limits = [mass(plan, limit) for limit in (each.mass, each.alone, each.may_lift)]
    return [each.key, each.what, *limits, takes]


def fit(found: Assessment) -> list[str]:
    """Each side against what would do, and each opening."""
    stood = found.structure
    lines: list[str] = []
    if stood.fits:
        head = ["stands", "fits", *[cell for side in SIDES for cell in (side, "may be")]]
        lines += [
            *layout.heading("Whether it fits its place"),
            *layout.grid(head, _fit_rows(found, stood.fits), left=2),
        ]
    if stood.passages:
        head = ["box", "through", "what", "sides", "passes"]
        rows = [_way_row(found, way) for way in stood.passages]
        lines += [*layout.heading("Whether it passes on the way"), *layout.grid(head, rows, left=3)]
    return lines


def _fit_rows(found: Assessment, fits: tuple[Fit, ...]) -> list[list[str]]:
    def told(value: float) -> str:
        return show(round(value, 3), "length", found.plan.units) if value > 0.0 else layout.NOTHING

    return [
        [each.key, "yes" if each.fits else "no", *[told(one[side]) for side in SIDES for one in (each.has, each.may)]]
        for each in fits
    ]


def _way_row(found: Assessment, way: Passage) -> list[str]:
    return [
        way.key,
        way.opening,
        way.what,
        sides(found.plan, way.sides),
        "yes" if way.passes else f"no ({way.failing})",
    ]
