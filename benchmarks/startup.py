"""What a command costs from the first to the last, over a bare interpreter that imports numpy.

Processes are run in turn, so that a busy machine slows all of them alike; the figures are ratios of medians. Modules
are compiled once before, as they are where the program is installed, and the sound fields of the example's boxes are
known; what the first assessment costs, which solves them, is told beside that.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from importlib.resources import files
from pathlib import Path

from benchmarks import Row
from sordino.cache import SETTING

TURNS, FIRST_TURNS = 9, 3
HELP_GOAL, ASSESS_GOAL = 2.5, 8.0
FREE = "none set"


def rows() -> list[Row]:
    """`sordino --help` and `sordino assess` on the example, each over `python -c "import numpy"`."""
    program = str(Path(sys.executable).with_name("sordino"))
    example = str(files("sordino.examples").joinpath("mill-loft.toml"))
    commands = [[sys.executable, "-c", "import numpy"], [program, "--help"], [program, "assess", example]]
    with tempfile.TemporaryDirectory() as kept:
        environment = compiling(kept)
        bare, asked, assessed = medians(commands, environment)
        first = statistics.median(seconds(commands[-1], environment | {SETTING: ""}) for _ in range(FIRST_TURNS))
    return [
        Row('sordino --help / python -c "import numpy", wall time', asked / bare, f"<= {HELP_GOAL:g}"),
        Row('sordino assess EXAMPLE / python -c "import numpy", wall time', assessed / bare, f"<= {ASSESS_GOAL:g}"),
        Row(
            "first sordino assess EXAMPLE, boxes unsolved / with their fields known, wall time", first / assessed, FREE
        ),
    ]


def compiling(folder: str) -> dict[str, str]:
    """An environment in which compiled modules and solved fields are kept in a folder."""
    here = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return here | {"PYTHONPYCACHEPREFIX": folder, SETTING: folder}


def medians(commands: list[list[str]], environment: dict[str, str]) -> list[float]:
    """Median wall time of each command in s, all run once before, then in turn."""
    times: list[list[float]] = [[] for _ in commands]
    for turn in range(TURNS + 1):
        for place, command in enumerate(commands):
            taken = seconds(command, environment)
            if turn:
                times[place].append(taken)
    return [statistics.median(each) for each in times]


def seconds(command: list[str], environment: dict[str, str]) -> float:
    """Wall time of one process, which must say that it assessed (0 or 1), in s."""
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, check=False, env=environment)
    taken = time.perf_counter() - start
    if done.returncode not in (0, 1) or not (done.stdout or command[1] == "-c"):
        raise RuntimeError(f"{' '.join(command)} ended with {done.returncode}: {done.stderr.decode()[-500:]}")
    return taken
