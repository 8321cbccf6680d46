"""What could be changed about one sound in one room: candidates, the cheapest to build first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.contribution import Contribution
from sordino.assess.routes import joined
from sordino.elements.damper import Damper
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.metal_duct import MetalDuct
from sordino.kinds import FOOT, INCH
from sordino.plan.statement import Plan
from sordino.search import edits
from sordino.search.edits import Edit
from sordino.units import show

SLOWER, QUIETER, LARGER, HEAVIER = 0.8, 5.0, 1.5, 6.0
"""Share of the mover's speed, dB off the mover, share of the opening, dB on the shell: steps a builder can take."""
METRIC_PIECE, INCH_PIECE = (2.0, 0.05, 1.2), (6 * FOOT, 2 * INCH, 4 * FOOT)
"""Length of lined duct, lining, length of a box, m: round numbers in either system."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One thing that could be done, in words and as an edit of the plan."""

    words: str
    edit: Edit
    subject: str
    """Key of the run, mover or shell that is changed."""
    run: str = ""
    """The run whose flow it touches first; empty if it leaves all flows alone."""
    boxed: bool = False
    """Whether it puts in a box."""


def changes(plan: Plan, place: str, mode: str, sound: Contribution) -> Iterator[Change]:
    """All that is tried against one sound."""
    runs = [name for name in sound.via.split(" + ") if name in plan.run]
    if runs and sound.cause == "air":
        yield from _against_air(plan, place, runs[-1], sound)
    if runs and sound.cause in ("break-in", "breakout"):
        yield from _against_walls(plan, runs[-1])
    if runs and sound.cause != "breakout":
        yield from in_run(plan, place, runs[-1])
        yield from _lined(plan, runs)
    for mover in _movers(plan, mode, sound):
        yield from _of_mover(plan, mode, mover, runs[-1] if runs else "")
    if sound.via in plan.shell:
        yield from _of_shell(plan, sound.via)


def _of_shell(plan: Plan, shell: str) -> Iterator[Change]:
    if plan.shell[shell].gaps:
        sealed = edits.with_sealed_shell(shell)
        yield Change(words=f"the gaps in the shell {shell} sealed", edit=sealed, subject=shell)
    words = f"{HEAVIER:.0f} dB more loss in every band from the shell {shell}"
    yield Change(words=words, edit=edits.with_heavier_shell(shell, HEAVIER), subject=shell)


def in_run(plan: Plan, place: str, run: str) -> Iterator[Change]:
    """Loss put right behind the opening of a run."""
    at = edits.opening(plan, run, place)
    if at is None:
        return
    length, lining, long_box = METRIC_PIECE if plan.units == "metric" else INCH_PIECE
    piece = f"{_shown(plan, length)} of duct lined with {_shown(plan, lining)}"
    yield Change(
        words=f"{piece} in {run}", edit=edits.with_lined_duct(run, place, length, lining), subject=run, run=run
    )
    box = edits.fitting_box(plan.run[run].parts[at].section, long_box, lining, plan.units)
    size = " x ".join(_shown(plan, side) for side in (box.length, box.width, box.height))
    words = f"a lined box in {run} (two passes, {_shown(plan, lining)} lining, {size} inside)"
    with_box = Change(words=words, edit=edits.with_box(run, place, box), subject=run, run=run, boxed=True)
    if edits.buildable(with_box.edit(plan), run):
        yield with_box


def _lined(plan: Plan, runs: list[str]) -> Iterator[Change]:
    lining = (METRIC_PIECE if plan.units == "metric" else INCH_PIECE)[1]
    for run in reversed(runs):
        if any(isinstance(part, MetalDuct) and part.lining is None for part in plan.run[run].parts):
            words = f"{_shown(plan, lining)} lining in the bare metal duct of {run}"
            yield Change(words=words, edit=edits.with_lining(run, lining), subject=run, run=run)


def _against_air(plan: Plan, place: str, run: str, sound: Contribution) -> Iterator[Change]:
    at = edits.opening(plan, run, place)
    end = plan.run[run].parts[at] if at is not None else None
    if isinstance(end, Grille) and sound.station == end.label():
        size = edits.larger_opening(end, LARGER, plan.units)
        words = f"a grille opening of {size.shown(plan.units)} instead of {end.mouth.shown(plan.units)} in {run}"
        yield Change(words=words, edit=edits.with_opening(run, place, size), subject=run, run=run)
    made_in = sound.origin if sound.origin in plan.run else run
    if any(isinstance(part, Damper) and part.angle for part in plan.run[made_in].parts):
        yield Change(
            words=f"the damper in {made_in} open", edit=edits.with_open_damper(made_in), subject=made_in, run=made_in
        )
    now = plan.run[made_in].size
    words = (
        f"duct of {edits.next_size(now, plan.units).shown(plan.units)} instead of {now.shown(plan.units)} in {made_in}"
    )
    wider = Change(words=words, edit=edits.with_wider_duct(made_in), subject=made_in, run=made_in)
    if edits.buildable(wider.edit(plan), made_in):
        yield wider


def _against_walls(plan: Plan, run: str) -> Iterator[Change]:
    if any(isinstance(part, FlexibleDuct) for part in plan.run[run].parts):
        words = f"metal duct instead of flexible duct in {run}"
        yield Change(words=words, edit=edits.with_metal_for_flexible(run), subject=run, run=run)


def _movers(plan: Plan, mode: str, sound: Contribution) -> tuple[str, ...]:
    """Running movers to blame: the source itself, those that move the air, or those whose casings are near."""
    if sound.cause in ("fan", "casing"):
        return (sound.origin,)
    running = [key for key in plan.mover if plan.mode[mode].speeds.get(key, 1.0) > 0.0]
    if sound.cause in ("air", "breakout"):
        reached = _joined(plan, sound.via)
        return tuple(key for key in running if key in reached)
    if sound.cause in ("break-in", "background"):
        return tuple(key for key in running if plan.mover[key].within == sound.origin)
    return ()


def _joined(plan: Plan, run: str) -> set[str]:
    """Movers joined to a run by ducts and junctions alone."""
    nodes = [node for name in joined(plan, {run}) for node in (plan.run[name].start, plan.run[name].end)]
    return {node.partition(".")[0] for node in nodes} & set(plan.mover)


def _of_mover(plan: Plan, mode: str, mover: str, run: str) -> Iterator[Change]:
    name = plan.place_name(mover).lower()
    now = plan.mode[mode].speeds.get(mover, 1.0)
    words = f"the {name} at {100 * SLOWER * now:.0f} % instead of {100 * now:.0f} % speed in {mode}"
    touched = run or next((key for key, path in plan.run.items() if path.start.startswith(f"{mover}.")), "")
    yield Change(words=words, edit=edits.with_speed(mover, mode, SLOWER * now), subject=mover, run=touched)
    words = f"a {name} {QUIETER:.0f} dB quieter"
    yield Change(words=words, edit=edits.with_quieter(mover, QUIETER), subject=mover)


def _shown(plan: Plan, length: float) -> str:
    return show(length, "length", plan.units)
