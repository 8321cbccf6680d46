"""What the air in a box touches: linings that burn, fibres that come loose, boards that an inspector asks about."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.finding import Finding
from sordino.assess.safety import ASK
from sordino.assess.speeds import Speed
from sordino.elements.box import Box
from sordino.plan.statement import Plan
from sordino.units import show

MINERAL = ("gypsum board", "dense gypsum board", "cement board", "steel sheet", "glass")
"""Boards on record that do not feed a fire."""


def lining_findings(plan: Plan, along: tuple[Speed, ...]) -> Iterator[Finding]:
    """Each box with an open passage, and one question about all that are of wood; speeds of the fastest mode."""
    for key, box in plan.box.items():
        if box.holds_duct:
            continue
        if box.fill.burning != "does not burn":
            yield _burning(key, box)
        if box.fill.facing in ("none", "unknown"):
            yield _facing(plan, key, box, along)
    wooden = [key for key, box in plan.box.items() if not box.holds_duct and _burns(box)]
    if wooden:
        yield _wooden(plan, wooden)


def _burns(box: Box) -> bool:
    boards = [layers[0].board for layers in (box.shell, *box.faces.values())] + [box.divider_board]
    return any(board not in MINERAL for board in boards if board is not None)


def _burning(key: str, box: Box) -> Finding:
    state = box.fill.burning
    words = {
        "burns": f"the lining of {key} burns and lies in the air path: {ASK}, and take one whose sheet says flame "
        "spread 25 and smoke 50 or less.",
        "unknown": f"how the lining of {key} behaves in fire is not said: {ASK} for its sheet (flame spread 25, smoke "
        "50 or less) and write it as fill.burning.",
        "rated": f"the lining of {key} is said to be rated for air ducts: keep its sheet for whoever inspects it.",
    }[state]
    return Finding(
        subject=key,
        question="safety",
        mode="",
        standing="stop" if state == "burns" else "note",
        sentence=words[0].upper() + words[1:],
        method="model mechanical code 604.3: linings of ducts, ASTM E84",
        widest="what the lining is",
    )


def _facing(plan: Plan, key: str, box: Box, along: tuple[Speed, ...]) -> Finding:
    found = [each for each in along if each.place.startswith("box ") and each.station == f"box {key}"]
    fastest = max(found, key=lambda each: each.velocity, default=None)
    supply = fastest is not None and plan.run[fastest.run].end in plan.room
    where = "blows on into a room" if supply else "draws from a room"
    speed = "" if fastest is None else f" at up to {show(fastest.velocity, 'velocity', plan.units)}"
    bare = "bare" if box.fill.facing == "none" else "faced with nobody says what"
    care = "it must be faced and every cut edge sealed" if supply else "face it all the same: air turns when fans stop"
    return Finding(
        subject=key,
        question="safety",
        mode="",
        standing="note",
        value=None if fastest is None else fastest.velocity,
        unit="m/s",
        sentence=f"The fibre of {key} is {bare}, and its air{speed} {where}: {care}, with tissue or thin film.",
        method="common practice, no source",
        widest="facing of the fibre",
    )


def _wooden(plan: Plan, keys: list[str]) -> Finding:
    names = ", ".join(keys)
    return Finding(
        subject=keys[0],
        question="safety",
        mode="",
        standing="note",
        sentence=(
            f"Air passes between boards that burn in {names}: a home-built box of wood is no listed duct. "
            f"{ASK.capitalize()} the building official about the box, the lining's sheet, fire stops between leaves, "
            "wiring in it and condensate. Confirm locally."
        ),
        method="questions to raise with an inspector",
        widest="local code",
    )
