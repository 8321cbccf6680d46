"""How many variants of the example are assessed in a second, in one process on one core.

The file is read and checked once. Each variant is a copy of that statement with every straight length, the sizes of two
runs and the speeds of both movers changed (`model_copy`, then fitted as a file is), and is assessed in full: air in all
modes with clean and dirty filters, sound in all rooms, findings. Rooms, boxes and shells stay;
the boxes' sound fields are known before.
"""

from __future__ import annotations

import statistics
import time
from importlib.resources import files
from typing import Any

import numpy as np

from benchmarks import Row
from sordino.assess.assessment import assess
from sordino.plan.checks import complaints
from sordino.plan.fitting import fitted
from sordino.plan.project import document
from sordino.plan.reading import validate
from sordino.plan.statement import Plan
from sordino.quantities import Size

COUNT, LOTS = 1000, 10
GOAL = 20
SIZED = {"fresh-practice": (0.10, 0.16), "extract-practice": (0.10, 0.16)}
"""Runs without a transition whose diameter is drawn from a range, m."""


def rows() -> list[Row]:
    """The median over ten lots of a hundred, and the slowest variant."""
    base = written()
    draw = np.random.default_rng(20)
    plans = [variant(base, draw) for _ in range(COUNT)]
    assess(plans[0])
    taken = np.array([seconds(plan) for plan in plans])
    rates = [lot.size / lot.sum() for lot in np.array_split(taken, LOTS)]
    return [
        Row(
            f"variants of the example assessed per second, one core, {COUNT} of them",
            statistics.median(rates),
            f">= {GOAL}",
        ),
        Row("slowest of them, s", float(taken.max()), "none set"),
    ]


def written() -> Plan:
    """The example as written, before its runs are fitted."""
    return validate(document(str(files("sordino.examples").joinpath("mill-loft.toml"))), Plan, None, complaints)


def variant(base: Plan, draw: np.random.Generator) -> Plan:
    """One like it with other lengths, sizes and speeds."""
    run = {name: each.model_copy(update=changed(name, each, draw)) for name, each in base.run.items()}
    mode = {
        name: each.model_copy(update={"speeds": {key: draw.uniform(0.4, 1.0) for key in base.mover}})
        for name, each in base.mode.items()
    }
    return fitted(base.model_copy(update={"run": run, "mode": mode}))


def changed(name: str, run: Any, draw: np.random.Generator) -> dict[str, Any]:
    """New parts of a run, and its new size if it is one of those."""
    parts = tuple(
        part.model_copy(update={"length": part.length * draw.uniform(0.5, 2.0)})
        if part.kind in ("metal duct", "flexible duct")
        else part
        for part in run.parts
    )
    size = {"size": Size.circle(draw.uniform(*SIZED[name]))} if name in SIZED else {}
    return {"parts": parts, **size}


def seconds(plan: Plan) -> float:
    """Processor time that one assessment takes, s: what it would take on a core of its own."""
    start = time.process_time()
    assess(plan)
    return time.process_time() - start
