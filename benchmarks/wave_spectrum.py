"""The two-pass box: every frequency from a reduced basis against solving each in full, on one core.

Everything is in the time: grid, assembly, both ports, estimator. The direct sweep is timed on every fourth frequency,
on finer grids on every twenty-fourth, and scaled. Memory is the peak of a process of its own, libraries in it.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from benchmarks import Row
from sordino.bands import Array
from sordino.physics.wave.line import rounded
from sordino.physics.wave.operator import Filling, Operator, operator
from sordino.physics.wave.porous import Fibre
from sordino.physics.wave.prism import Divider, Port, Prism, Tube, whole
from sordino.physics.wave.reduced import spectrum
from sordino.physics.wave.solve import sweep
from sordino.physics.wave.twoport import TwoPort, transmission_loss

FREQUENCY = np.geomspace(44.2, 648.0, 241)
BATT = Filling(fibres=(Fibre(resistivity=5e3),))
GRIDS = (0.1, 0.05, 0.035, 0.025)
LIVE, FINE = 0.05, 0.025


@dataclass(frozen=True, kw_only=True, slots=True)
class Timed:
    """How long the whole spectrum took on one grid, and how far the basis is from the direct sweep below 60 dB."""

    unknowns: int
    assembly: float
    basis: float
    direct: float
    difference: float

    @property
    def quick(self) -> float:
        """Grid, assembly and reduced basis, s."""
        return self.assembly + self.basis

    @property
    def ratio(self) -> float:
        """Time of the direct sweep over that of the basis, assembly in both."""
        return (self.assembly + self.direct) / self.quick


def reference_box() -> Prism:
    """Two passes of 250 mm duct in 1.00 x 0.90 x 0.45 m of fibre, a 25 mm rigid divider between them."""
    y, low, high = 0.225, 0.21875, 0.68125
    line = rounded(((0.0, y, low), (0.75, y, low), (0.75, y, high), (0.0, y, high)), 0.23)
    ports = tuple(Port(face="left", centre=(0.0, y, z), diameter=0.25) for z in (low, high))
    box = Prism(
        length=1.0,
        width=0.45,
        height=0.90,
        ports=(ports[0], ports[1]),
        dividers=(Divider(x0=0.0, z0=0.4375, x1=0.55, z1=0.4625),),
        tube=Tube(centreline=line, radius=0.125),
    )
    return replace(box, regions=(whole(box, 1),))


def seconds(work: Callable[[], object]) -> float:
    """Processor time of this one-threaded process, which other work on the machine does not lengthen."""
    start = time.process_time()
    work()
    return time.process_time() - start


def timed(size: float, stride: int) -> Timed:
    """Both ways on one grid, the direct one at every `stride`-th frequency."""
    made: list[Operator] = []
    assembly = seconds(lambda: made.append(operator(reference_box(), size)))
    quick: list[TwoPort] = []
    basis = seconds(lambda: quick.append(spectrum(made[0], BATT, FREQUENCY).two_port))
    some: Array = FREQUENCY[::stride]
    full: list[TwoPort] = []
    direct = seconds(lambda: full.append(sweep(made[0], BATT, some))) * len(FREQUENCY) / len(some)
    exact = transmission_loss(full[0])
    gap = np.abs(transmission_loss(quick[0])[::stride] - exact)[exact < 60]
    return Timed(
        unknowns=made[0].size, assembly=assembly, basis=basis, direct=direct, difference=float(gap.max(initial=0.0))
    )


def peak_memory(size: float) -> float:
    """Peak memory of a process that works out the spectrum on one grid, MB."""
    work = f"from benchmarks.wave_spectrum import alone; print(alone({size}))"
    done = subprocess.run([sys.executable, "-c", work], capture_output=True, check=True, text=True)
    return float(done.stdout)


def alone(size: float) -> float:
    """The spectrum on one grid, and then this process's peak memory, MB.

    On Linux a process's resource usage begins with the peak of the one that started it, so its own is read elsewhere.
    """
    spectrum(operator(reference_box(), size), BATT, FREQUENCY)
    own = Path("/proc/self/status")
    if own.exists():
        return float(own.read_text().partition("VmHWM:")[2].split()[0]) / 1024.0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1024.0**2 if sys.platform == "darwin" else 1024.0)


def rows() -> list[Row]:
    """One line for each figure: name, value, goal."""
    timed(0.1, 20)
    found = {size: timed(size, 4 if size > 0.03 else 24) for size in GRIDS}
    lines = []
    for size, one in found.items():
        name = f"two-pass box, {1000 * size:.0f} mm grid, {one.unknowns} unknowns"
        whole_goal = "<= 0.3" if size == LIVE else "none set"
        lines.append(Row(f"{name}: 241 frequencies, s", one.quick, whole_goal))
        least = ">= 15" if size <= LIVE else "none set"
        lines.append(Row(f"{name}: direct sweep over reduced basis", one.ratio, least))
        lines.append(Row(f"{name}: largest difference below 60 dB, dB", one.difference, "<= 0.1"))
    for size in (LIVE, FINE):
        lines.append(Row(f"two-pass box, {1000 * size:.0f} mm grid: peak memory, MB", peak_memory(size), "<= 500"))
    cost = np.array([[one.unknowns, one.quick] for one in found.values()])
    slope = float(np.polyfit(np.log(cost[:, 0]), np.log(cost[:, 1]), 1)[0])
    lines.append(Row("two-pass box, four grids: time grows as unknowns to the power", slope, "none set"))
    return lines
