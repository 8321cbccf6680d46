"""Entries, exits, area changes and branches, against handbooks and a fluids library."""

from __future__ import annotations

import numpy as np
from fluids.fittings import (
    K_branch_converging_Crane,
    K_branch_diverging_Crane,
    K_run_converging_Crane,
    K_run_diverging_Crane,
    contraction_conical,
    diffuser_conical,
)

from evidence import Check
from sordino.physics.air.areas import (
    entry_sharp,
    exit_loss,
    sudden_contraction,
    sudden_expansion,
    tapered,
)
from sordino.physics.air.branches import (
    converging_branch,
    converging_run,
    diverging_branch,
    diverging_run,
)

RATIOS = np.array([0.1, 0.25, 0.5, 0.75])


def test_sudden_changes(check: Check) -> None:
    """Enlargement and contraction on the smaller end."""
    got = sudden_expansion(RATIOS, 1.0)
    check("sudden enlargement", [0.81, 0.56, 0.25, 0.06], got, source="Borda-Carnot", mark="derived", within=0.005)
    got = sudden_contraction(2.0, 2.0 * RATIOS)
    source = "Rennels and Hudson 2012 via fluids"
    check("sudden contraction", [0.55, 0.50, 0.34, 0.14], got, source=source, mark="read", within=0.006)


def test_tapers(check: Check) -> None:
    """Diffuser of area ratio 2 as printed, and contractions against the reference library."""
    angles = np.array([10, 14, 20, 30, 45, 60, 90, 180])
    printed = [0.06, 0.08, 0.10, 0.17, 0.26, 0.30, 0.29, 0.27]
    source = "Idelchik 1966 via fluids"
    got = tapered(0.02, 0.04, angles)
    check("diffuser, A2/A1 2", printed, got, source=source, mark="read", within=0.011)
    library = [diffuser_conical(1.0, 3**0.5, angle=angle, method="Idelchik") for angle in (12.0, 40.0)]
    got = tapered(0.01, 0.03, np.array([12.0, 40.0]))
    check("diffuser, A2/A1 3", library, got, source=source, mark="read", within=0.005)
    library = [contraction_conical(1.0, 0.4**0.5, angle=a, fd=1e-12) for a in (20.0, 60.0, 120.0)]
    got = tapered(0.1, 0.04, np.array([20.0, 60.0, 120.0]))
    source = "Rennels and Hudson 2012 via fluids"
    check("conical contraction", library, got, source=source, mark="read", relative=1e-4)


def test_entries_and_exit(check: Check) -> None:
    """Sharp and projecting entries."""
    source = "Idelchik 3-1 as in ASHRAE Principles of HVAC"
    got = entry_sharp(np.array([0, 0.01, 0.2, 1.0]))
    check("projecting entry", [0.50, 0.68, 0.92, 1.0], got, source=source, mark="read", within=0.001)
    got = entry_sharp(np.array([0.05, 0.5]), np.array([0.02, 0.05]))
    check("entry with a thick edge", [0.55, 0.50], got, source=source, mark="read", within=0.001)
    check("exit loss, velocity pressures", 1.0, exit_loss, source="one velocity pressure", mark="memory", within=0.001)


def test_diverging_branches(check: Check) -> None:
    """Butt taps and runs; Crane's worked 45 degree wye differs from Idelchik's simple form by a third."""
    got = np.array([diverging_branch(x, 1.0) / x**2 for x in (0.5, 1.0, 1.5, 2.0)])
    source = "Idelchik ch. 7, on the branch velocity pressure"
    check("90 degree tap", [5.0, 1.8, 1.3, 1.125], got, source=source, mark="memory", within=0.01)
    library = [K_branch_diverging_Crane(1.0, 0.6**0.5, 0.7, 0.3, 90.0)]
    got = np.array([diverging_branch(0.3 / 0.6, 1.0)])
    source = "Crane TP-410 via fluids"
    check("90 degree tap, area 0.6", library, got, source=source, mark="read", relative=0.20)
    source = "Crane TP-410 2009 example 7-36"
    got = diverging_branch(0.01583, 0.01583 + 0.02525, 45.0)
    check("branch of a 45 degree wye", 0.4640, got, source=source, mark="read", relative=0.35)
    library = [K_run_diverging_Crane(1.0, 0.3**0.5, 1 - q, q, 90.0) for q in (0.2, 0.5)]
    got = diverging_run(np.array([0.8, 0.5]), 1.0)
    check("run past a tap", library, got, source="Crane TP-410 via fluids", mark="read", relative=1e-6)


def test_converging_branches(check: Check) -> None:
    """Crane's worked tee and the library's forms at other sizes and angles."""
    ratio = 0.00633 / (0.00633 + 0.018917)
    got = converging_branch(ratio, 1.0)
    check("branch that joins a tee", -0.04026, got, source="Crane TP-410 ex. 7-35", mark="read", within=0.0005)
    cases = [(0.3, 0.3, 45.0), (0.2, 0.5, 60.0), (0.5, 0.5, 90.0)]
    library = [K_branch_converging_Crane(1.0, a**0.5, 1 - q, q, angle) for q, a, angle in cases]
    got = [converging_branch(*case) for case in cases]
    check("joining branch", library, got, source="Crane TP-410 via fluids", mark="read", within=1e-6)
    library = [K_run_converging_Crane(1.0, a**0.5, 1 - q, q, angle) for q, a, angle in cases]
    got = [converging_run(*case) for case in cases]
    check("joining run", library, got, source="Crane TP-410 via fluids", mark="read", within=1e-6)
