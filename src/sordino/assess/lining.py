"""What the air in a box touches: linings that burn, fibres that come loose, boards that an inspector asks about."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.finding import Finding, Standing
from sordino.assess.safety import ASK
from sordino.assess.speeds import Speed
from sordino.elements.box import Box
from sordino.plan.statement import Plan
from sordino.units import show

MINERAL = ("gypsum board", "dense gypsum board", "cement board", "steel sheet", "glass")
"""Boards on record that do not feed a fire."""
SHEET = "model mechanical code 604.3: linings of ducts, ASTM E84"


def lining_findings(plan: Plan, along: tuple[Speed, ...]) -> Iterator[Finding]:
    """Linings, fibres and boards of all boxes with an open passage; `along` holds the speeds of all modes."""
    lined = {key: box for key, box in plan.box.items() if not box.holds_duct}
    for key, box in lined.items():
        if box.fill.burning == "burns":
            words = (
                f"The lining of {key} burns and lies in the air path: {ASK}, and take one whose sheet says flame "
                "spread 25 and smoke 50 or less."
            )
            yield _told(key, words, SHEET, "what the lining is", "stop")
    unknown = [key for key, box in lined.items() if box.fill.burning == "unknown"]
    if unknown:
        words = (
            f"How the lining of {', '.join(unknown)} behaves in fire is not said: {ASK} for its sheet (flame spread "
            "25, smoke 50 or less) and write it as fill.burning."
        )
        yield _told(unknown[0], words, SHEET, "what the lining is")
    yield from _facings(plan, lined, along)
    wooden = [key for key, box in lined.items() if _burns(box)]
    if wooden:
        yield _wooden(wooden)


def _told(subject: str, words: str, method: str, widest: str, verdict: Standing = "note") -> Finding:
    return Finding(
        subject=subject,
        question="safety",
        mode="",
        standing=verdict,
        sentence=words,
        method=method,
        widest=widest,
    )


def _burns(box: Box) -> bool:
    boards = [layers[0].board for layers in (box.shell, *box.faces.values())] + [box.divider_board]
    return any(board not in MINERAL for board in boards if board is not None)


def _facings(plan: Plan, lined: dict[str, Box], along: tuple[Speed, ...]) -> Iterator[Finding]:
    """Bare fibre, or fibre nobody says is faced: on the way into rooms it must be, on the way out it should."""
    open_fibre = [key for key, box in lined.items() if box.fill.facing in ("none", "unknown")]
    speeds = {key: _fastest(key, along) for key in open_fibre}
    for supply in (True, False):
        mine = [key for key in open_fibre if _blows_in(plan, speeds[key]) is supply]
        if not mine:
            continue
        fastest = max(each.velocity if each is not None else 0.0 for each in (speeds[key] for key in mine))
        where = "blows on into a room" if supply else "comes out of a room"
        care = "it must be faced" if supply else "face it all the same, for air turns when fans stop"
        words = (
            f"Nobody says that the fibre of {', '.join(mine)} is faced, and air at up to "
            f"{show(fastest, 'velocity', plan.units)} {where}: {care}, with tissue or thin film, every cut edge sealed."
        )
        yield Finding(
            subject=mine[0],
            question="safety",
            mode="",
            standing="note",
            value=fastest,
            unit="m/s",
            sentence=words,
            method="common practice, no source",
            widest="facing of the fibre",
        )


def _fastest(key: str, along: tuple[Speed, ...]) -> Speed | None:
    """The fastest air in a box over all modes."""
    found = [each for each in along if each.place.startswith("box ") and each.station == f"box {key}"]
    return max(found, key=lambda each: each.velocity, default=None)


def _blows_in(plan: Plan, speed: Speed | None) -> bool:
    return speed is not None and plan.run[speed.run].end in plan.room


def _wooden(keys: list[str]) -> Finding:
    words = (
        f"Air passes between boards that burn in {', '.join(keys)}: a home-built box of wood is no listed duct. "
        f"{ASK.capitalize()} the building official about the box, the lining's sheet, fire stops between leaves, "
        "wiring in it and condensate. Confirm locally."
    )
    return _told(keys[0], words, "questions to raise with an inspector", "local code")
