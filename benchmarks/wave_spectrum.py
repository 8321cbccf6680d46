"""The two-pass box: every frequency from a reduced basis against solving each in full, on one core.

Everything is in the time: grid, assembly, both ports, estimator. The direct sweep of the finer grids is timed on every
tenth frequency and scaled.
"""

from __future__ import annotations

import resource
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

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
GRIDS = (0.05, 0.035, 0.025, 0.018)


@dataclass(frozen=True, kw_only=True, slots=True)
class Timed:
    """How long the whole spectrum took on one grid, and how far the basis is from the direct sweep below 60 dB."""

    unknowns: int
    assembly: float
    basis: float
    direct: float
    difference: float
    memory: float

    @property
    def ratio(self) -> float:
        return (self.assembly + self.direct) / (self.assembly + self.basis)


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
        unknowns=made[0].size,
        assembly=assembly,
        basis=basis,
        direct=direct,
        difference=float(gap.max()),
        memory=resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    )


def rows() -> list[tuple[str, str, str]]:
    """One line for each figure: name, value, goal."""
    timed(0.08, 20)
    found = {size: timed(size, 4 if size > 0.03 else 24) for size in GRIDS}
    lines = []
    for size, one in found.items():
        name = f"two-pass box, {1000 * size:.0f} mm grid, {one.unknowns} unknowns"
        lines.append(
            (
                f"{name}: spectrum of 241 frequencies",
                f"{one.assembly + one.basis:.2f} s",
                "at most 0.3 s" if size == 0.05 else "stated",
            )
        )
        lines.append((f"{name}: direct sweep over reduced basis", f"{one.ratio:.1f}", "at least 15"))
        lines.append((f"{name}: peak memory so far", f"{one.memory:.0f} MB", "under 500 MB to 25 mm"))
        lines.append((f"{name}: largest difference below 60 dB", f"{one.difference:.4f} dB", "0.1 dB"))
    cost = np.array([[one.unknowns, one.assembly + one.basis] for one in found.values()])
    slope = np.polyfit(np.log(cost[:, 0]), np.log(cost[:, 1]), 1)[0]
    lines.append(("two-pass box: cost grows as unknowns to the power", f"{slope:.2f}", "stated"))
    return lines
