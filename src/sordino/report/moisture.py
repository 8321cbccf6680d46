"""Where boxes and ducts sweat, and where mould may grow, as a table."""

from __future__ import annotations

from sordino.assess.airs import OFF, ON
from sordino.assess.assessment import Assessment
from sordino.assess.damp import Damp
from sordino.assess.wording import degrees
from sordino.report import layout


def moisture(found: Assessment) -> list[str]:
    """The dampest place of each box and run in each condition, and its mean of thirty days."""
    if not found.indoors.damp:
        return []
    head = ["box or run", "when", "air", "at", "is", "dew point", "humidity", "", ""]
    rows = [_row(found, each) for each in _told(found)]
    note = (
        "wet: under the dew point plus 1 K, within the range: near. leak: dry as long as no seam lets the moister air "
        "in between the layers. Steady flow of heat and vapour through the layers; "
        "corners, and films by orientation and jacket, are in it; screws, collars and squeezed straps are not."
    )
    return [
        *layout.heading("Where it is dampest"),
        *layout.grid(head, rows, left=4),
        *layout.paragraph(note),
        *_months(found),
    ]


def _told(found: Assessment) -> list[Damp]:
    """Boxes in every condition, the ducts of a run where they are dampest."""
    worst: dict[str, float] = {}
    for each in found.indoors.damp:
        near = each.temperature - each.limit
        worst[each.skin.subject] = min(near, worst.get(each.skin.subject, near))
    return [
        each
        for each in found.indoors.damp
        if each.skin.subject in found.plan.box or each.temperature - each.limit == worst[each.skin.subject]
    ]


def _row(found: Assessment, each: Damp) -> list[str]:
    return [
        each.skin.subject,
        each.condition.replace("_", " "),
        OFF if each.airs.mode == OFF else ON,
        _place(each.at),
        degrees(found.plan, each.temperature),
        degrees(found.plan, each.dew),
        f"{100 * min(each.humidity, 1.0):.0f} %",
        "wet" if each.wet else "near" if each.low < each.limit else "dry",
        "leak" if each.leaks and not each.wet else "",
    ]


def _place(words: str) -> str:
    """An interface in fewer words."""
    short = words.removeprefix("on the ").removeprefix("between ").replace("outside of the ", "outside, ")
    return short.replace("inner face of the ", "inside, ").replace(" and ", "/").replace("film of the duct", "film")


def _months(found: Assessment) -> list[str]:
    head = ["box or run", "thirty days of", "at", "mean humidity", "range", ""]
    rows = [
        [
            each.skin.subject,
            each.condition.removesuffix("_month"),
            _place(each.at),
            f"{100 * each.humidity:.0f} %",
            f"{100 * each.low:.0f} to {100 * each.high:.0f}",
            "mould" if each.humidity > 0.8 else "near" if each.high > 0.8 else "dry",
        ]
        for each in found.indoors.mould
    ]
    return ["", *layout.grid(head, rows, left=3)] if rows else []
