"""Run every benchmark of this folder, or those whose names are given, and print one line for each figure."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def names(wanted: list[str]) -> list[str]:
    """Benchmarks by file, those whose name begins with a wanted word; all without one."""
    found = sorted(path.stem for path in Path(__file__).parent.glob("[a-z]*.py"))
    return [name for name in found if not wanted or name.startswith(tuple(wanted))]


def lines(wanted: list[str]) -> Iterator[str]:
    """One line for each figure, as it is measured."""
    from benchmarks import meets

    for name in names(wanted):
        for what, value, goal in importlib.import_module(f"benchmarks.{name}").rows():
            number = f"{value:.3g}" if isinstance(value, float) else str(value)
            verdict = {True: "", False: "   MISSED", None: ""}[_kept(value, str(goal), meets)]
            yield f"{what:<78} {number:>10}   goal {goal}{verdict}"


def _kept(value: object, goal: str, meets: object) -> bool | None:
    return meets(float(value), goal) if isinstance(value, int | float) and callable(meets) else None


if __name__ == "__main__":
    if any(os.environ.get(name) != "1" for name in THREADS):
        alone = os.environ | dict.fromkeys(THREADS, "1")
        os.execve(sys.executable, [sys.executable, "-m", "benchmarks", *sys.argv[1:]], alone)
    for line in lines(sys.argv[1:]):
        print(line, flush=True)
