"""The order of work as steps: what is put in, what is sealed and screwed before it is covered, what is checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sordino.build.kit import Kit
from sordino.build.order import Placed, grouped
from sordino.build.part import Part
from sordino.build.step_closing import inspection, proof
from sordino.build.step_words import cutting, filling, placing, sealing
from sordino.build.words import Told
from sordino.units import System

COVERING = ("outer layers", "closing")
"""Stages after which the first layer's joints and all that lies inside are out of reach."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One step: its title, the labels of the parts put in, and what is to be done, checked, kept and minded."""

    number: int
    title: str
    stage: str
    parts: tuple[str, ...]
    work: tuple[str, ...]
    checks: tuple[str, ...] = ()
    photographs: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def steps(kit: Kit, units: System) -> tuple[Step, ...]:
    """Every step of a box, numbered from 1; each part is put in in one of them."""
    found = tuple(_all(kit, units))
    return tuple(replace(step, number=number) for number, step in enumerate(found, 1))


def _all(kit: Kit, units: System) -> Iterator[Step]:
    """Cutting, the inner shell and what stands in it, sealing, outer layers, filling and the look inside, closing."""
    yield _step("Cut the parts", "cutting", (), cutting(kit, units))
    groups = grouped(kit.order, _heading)
    sealed = filled = False
    for index, (title, group) in enumerate(groups):
        stage = group[0].stage
        if stage in COVERING and not sealed:
            sealed = True
            yield _step("Seal the inside", "sealing", (), sealing(kit, units))
        if stage == "closing" and not filled:
            filled = True
            yield _step("Fill it and bring in the ducts", "filling", (), filling(kit, units))
            yield _step("Look before it is closed", "inspection", (), inspection(kit, units))
        told = placing(kit, group, tuple(each for _, past in groups[:index] for each in past), units)
        yield _step(title, stage, tuple(one.piece.label for one in group), told)
    yield _step("Prove it", "proof", (), proof(kit, units))


def _step(title: str, stage: str, parts: tuple[str, ...], told: Told) -> Step:
    return Step(
        number=0,
        title=title,
        stage=stage,
        parts=parts,
        work=told.work,
        checks=told.checks,
        photographs=told.photographs,
        cautions=told.cautions,
    )


def _heading(placed: Placed) -> str:
    """Title of the step in which a piece is put in."""
    piece, stage = placed.piece, placed.stage
    if stage == "shell":
        assert isinstance(piece, Part), "the shell is made of panels"
        return f"Set up the {piece.face}"
    if stage == "outer layers":
        return f"Put on layer {piece.level + 1}"
    return {
        "frame": "Fix the frame sticks",
        "cleats": "Fix the cleats for the dividers",
        "dividers": "Put in the dividers",
        "cleats on the closing face": "Fix the cleats behind the closing face",
        "closing": "Close the box",
    }[stage]
