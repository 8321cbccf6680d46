"""Mistakes in what is said of standing, hanging and fitting: each with its place, its problem and its cure."""

from __future__ import annotations

import pytest

from sordino.errors import PlanError
from structures import booth

CASES = {
    "a box that is not there": (
        ("[stand.muffler]", "[stand.mufler]"),
        "stand.mufler: there is no box or mover 'mufler'. Did you mean 'muffler'?",
    ),
    "an opening that is not there": (('way = ["hatch"]', 'way = ["hach"]'), "there is no opening 'hach'"),
    "joists that are not there": (
        ('hung = { from = "loft"', 'hung = { from = "attic"'),
        "there is no row of joists 'attic'",
    ),
    "a leaf too many": (("leaf = 1", "leaf = 3"), "the shell 'ceiling' has 2 leaf(s)"),
    "beyond the span": (('screw = "lag screw"', 'screw = "lag screw", at = "4 m"'), "this is beyond the joists' span"),
    "a box with a mass": (('way = ["hatch"]', 'mass = "40 kg"'), "the mass of a box is worked out from its boards"),
    "an odd number of hangers": (
        ('screw = "lag screw"', 'screw = "lag screw", hangers = 5'),
        "an odd number of hangers",
    ),
    "joists that lie flat": (
        ('width = "38 mm"\ndepth = "140 mm"', 'width = "140 mm"\ndepth = "38 mm"'),
        "these joists lie flat",
    ),
    "no such wood": (('spacing = "400 mm"', 'spacing = "400 mm"\nwood = "balsa"'), "balsa"),
    "a space without a shape": (
        ('profile = [["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]]', 'width = "1 m"'),
        "the clear space has no shape",
    ),
    "corners that cross": (
        ('["2.2 m", "0 m"], ["0 m", "1.5 m"]]', '["1 m", "1 m"], ["1 m", "0 m"], ["0 m", "1 m"]]'),
        "these corners enclose no space",
    ),
    "a screw as thick as an arm": (('diameter = "6.35 mm"', 'diameter = "60 mm"'), "is no diameter of a screw"),
    "a machine nobody weighed": (
        ("[stand.muffler]", "[stand.fan]\nlift = { persons = 1 }\n[stand.muffler]"),
        "nothing tells what this machine weighs",
    ),
    "an appliance nowhere": (
        ("[opening.hatch]", '[appliance.stove]\nis = "open-flued"\nin = "hall"\n[opening.hatch]'),
        "there is no room or space 'hall'",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_each_mistake_is_told(case: str) -> None:
    edit, message = CASES[case]
    with pytest.raises(PlanError) as refusal:
        booth(edit)
    told = [str(fault) for fault in refusal.value.faults]
    assert len(told) == 1
    assert message in told[0]
    assert told[0].startswith("booth.toml:")


def test_the_file_without_mistakes_is_good() -> None:
    assert booth().stand["muffler"].hung is not None
    spelled = booth(('spacing = "400 mm"', 'spacing = "400 mm"\nwood = "douglas fir"'))
    assert spelled.joists["loft"].wood == "Douglas fir-larch No. 2"
