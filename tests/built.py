"""Boxes ready to be built, for tests: those of `boxed`, and random ones."""

from __future__ import annotations

from typing import Any

from hypothesis import assume
from hypothesis import strategies as st
from manifold3d import Manifold, OpType

from boxed import boxed
from sordino.build.kit import Kit, kit, kits
from sordino.build.order import Piece
from sordino.build.solid import solid
from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.built_box import BuiltBox
from sordino.plan.building import Building
from sordino.quantities import Size

Casing = list[dict[str, Any]]
PLY, MDF = {"board": "plywood", "thickness": "18 mm"}, {"board": "MDF", "thickness": "12 mm"}
CASINGS: tuple[Casing, ...] = (
    [PLY],
    [MDF],
    [PLY, PLY],
    [PLY, {"damping": True}, MDF],
    [MDF, MDF, PLY],
    [PLY, {"cavity": "40 mm"}, MDF],
)


def built(name: str, **changed: str) -> Kit:
    """The kit of one of the small boxes."""
    (found,) = kits(boxed(name, **changed))
    return found


def joined(pieces: tuple[Piece, ...]) -> Manifold:
    """All of them as one solid."""
    return Manifold.batch_boolean([solid(piece) for piece in pieces], OpType.Add)


def _mm(low: int, high: int) -> st.SearchStrategy[int]:
    return st.integers(low, high)


@st.composite
def random_kits(draw: st.DrawFn, casings: tuple[Casing, ...] = CASINGS, faces: bool = True) -> Kit:
    """Boxes stated in full: flat or under one or two slopes, with up to two dividers, of one casing or two."""
    length, width, height = draw(_mm(500, 1600)), draw(_mm(260, 800)), draw(_mm(300, 900))
    told: dict[str, Any] = {
        "family": "custom",
        "length": f"{length} mm",
        "width": f"{width} mm",
        "height": f"{height} mm",
        "inlet": {"face": "floor", "along": "100 mm"},
        "outlet": {"face": draw(st.sampled_from(["floor", "front", "back"])), "along": f"{length - 150} mm"},
        "linings": [{"face": face, "thickness": "50 mm"} for face in ("floor", "front", "back")],
        "shell": draw(st.sampled_from(casings)),
    }
    if told["outlet"]["face"] != "floor":
        told["outlet"]["across"] = "100 mm"
    for side in ("left", "right"):
        if draw(st.booleans()):
            run, drop = draw(_mm(60, length // 2)), draw(st.one_of(_mm(40, height - 60), st.just(height)))
            told[f"{side}_slope"] = {"run": f"{run} mm", "drop": f"{drop} mm"}
    count = draw(st.integers(0, 2))
    places = [220 + index * 60 for index in range(count)]
    told["dividers"] = [
        {"from": [f"{at} mm", "0 mm"], "to": [f"{at + 18} mm", f"{draw(_mm(60, height // 2))} mm"]} for at in places
    ]
    if faces and draw(st.booleans()):
        told["faces"] = {draw(st.sampled_from(["floor", "left", "front", "ceiling"])): draw(st.sampled_from(casings))}
    return stated(told)


def stated(told: dict[str, Any]) -> Kit:
    """The kit of a box of that table."""
    box = Box.model_validate(told)
    part = BuiltBox(box="any", build=box, size=Size(round=True, width=0.125, height=0.125))
    try:
        return kit(part, Building())
    except Clash:
        assume(False)
        raise


def sloped(length: int, left: tuple[int, int] | None, right: tuple[int, int] | None, casing: Casing) -> Kit:
    """A box 300 mm high and 260 mm wide under slopes that run and drop so many mm."""
    slopes = {
        f"{side}_slope": {"run": f"{cut[0]} mm", "drop": f"{cut[1]} mm"}
        for side, cut in (("left", left), ("right", right))
        if cut is not None
    }
    mouths = {
        "inlet": {"face": "floor", "along": "100 mm"},
        "outlet": {"face": "floor", "along": f"{length - 150} mm"},
        "linings": [{"face": face, "thickness": "50 mm"} for face in ("floor", "front", "back")],
    }
    size = {"length": f"{length} mm", "width": "260 mm", "height": "300 mm"}
    return stated({"family": "custom", **size, **mouths, **slopes, "shell": casing})


AWKWARD = (
    sloped(562, (157, 40), (281, 40), [PLY]),
    sloped(500, (210, 300), None, [PLY]),
    sloped(1128, (549, 40), None, [PLY, {"cavity": "40 mm"}, MDF]),
    stated(
        {
            "family": "custom",
            "length": "1079 mm",
            "width": "445 mm",
            "height": "338 mm",
            "inlet": {"face": "floor", "along": "100 mm"},
            "outlet": {"face": "front", "along": "929 mm", "across": "100 mm"},
            "linings": [{"face": face, "thickness": "50 mm"} for face in ("floor", "front", "back")],
            "left_slope": {"run": "464 mm", "drop": "338 mm"},
            "right_slope": {"run": "432 mm", "drop": "168 mm"},
            "dividers": [
                {"from": ["220 mm", "0 mm"], "to": ["238 mm", "150 mm"]},
                {"from": ["280 mm", "0 mm"], "to": ["298 mm", "123 mm"]},
            ],
            "shell": [PLY, MDF],
        }
    ),
)
"""Two flat mitres on one ceiling; a slope down to the floor; a cavity hardly wide enough for two spacers; cleats that
end beside sticks along a slope."""
