"""The ways sound can take through the ducts."""

from __future__ import annotations

import numpy as np

from small import ROOMS, between, transfer, written
from sordino.assess.routes import End, Leg, arms, end_at, routes
from sordino.assess.stations import Stations
from sordino.physics.air.properties import STANDARD

TEE = """
[space.outside]
is = "outside"

[mover.fan]
is = "inline fan"
in = "outside"
curve = [["0 L/s", "90 Pa"], ["50 L/s", "0 Pa"]]
sound = { rated = "35 dBA" }

[junction.split]
is = "branch"

[run.intake]
from = "outside"
to = "fan.inlet"
size = "125 mm"

[run.trunk]
from = "fan.outlet"
to = "split"
size = "200 mm"
parts = [{ is = "metal duct", length = "1 m" }]

[run.left]
from = "split"
to = "here"
size = "125 mm"

[run.right]
from = "split"
to = "there"
size = "160 mm"
parts = [{ is = "bend" }]
"""


def test_a_branch_joins_all_its_ends() -> None:
    """Three ends at one branch: six ordered pairs, each one route; the intake's two ends make two more."""
    found = {(route.start, route.end): route.name() for route in routes(written(ROOMS + TEE))}
    fan, here, there = End("mover", "fan", "outlet"), End("room", "here"), End("room", "there")
    assert found == {
        (fan, here): "trunk + left",
        (fan, there): "trunk + right",
        (here, fan): "left + trunk",
        (there, fan): "right + trunk",
        (here, there): "left + right",
        (there, here): "right + left",
        (End("space", "outside"), End("mover", "fan", "inlet")): "intake",
        (End("mover", "fan", "inlet"), End("space", "outside")): "intake",
    }


def test_sound_goes_against_the_air_as_well() -> None:
    """From room to room the first leg runs backwards, the second forwards."""
    route = next(r for r in routes(written(ROOMS + TEE)) if r.name() == "left + right")
    assert [leg.forward for leg in route.legs] == [False, True]
    assert route.legs[0].turned() == Leg("left", True)


def test_ends_by_name() -> None:
    """Room, space, port; a junction is no end."""
    plan = written(ROOMS + TEE)
    assert end_at(plan, "here") == End("room", "here")
    assert end_at(plan, "outside") == End("space", "outside")
    assert end_at(plan, "fan.outlet") == End("mover", "fan", "outlet")
    assert end_at(plan, "split") is None
    assert {leg.run for leg in arms(plan, "split")} == {"trunk", "left", "right"}


def test_a_branch_is_a_station_with_the_split_of_its_areas() -> None:
    """From the trunk into the left: 125 of 125 and 160 mm; 10 lg of the share of area and what the sum reflects."""
    plan = written(ROOMS + TEE)
    route = next(r for r in routes(plan) if r.name() == "trunk + left")
    station = Stations(plan, STANDARD).along(route)[-1]
    assert station.label == "branch split"
    trunk, arms_area, share = 0.2**2, 0.125**2 + 0.16**2, 0.125**2 / (0.125**2 + 0.16**2)
    m = arms_area / trunk
    by_hand = -10 * np.log10(1 - ((m - 1) / (m + 1)) ** 2) - 10 * np.log10(share)
    np.testing.assert_allclose(station.loss, by_hand)


def test_no_route_ends_where_it_starts() -> None:
    """And every route is unique."""
    for plan in (written(ROOMS + TEE), between(""), transfer('{ is = "bend" }')):
        found = routes(plan)
        assert all(route.start != route.end for route in found)
        assert len({(r.start, r.end, r.legs) for r in found}) == len(found)


def test_the_narrowest_cut_on_holds() -> None:
    """Up to the lowest cut-on of what is passed: the 200 mm trunk, 1.841 c / (pi d) = 1005 Hz."""
    plan = written(ROOMS + TEE)
    route = next(r for r in routes(plan) if r.name() == "trunk + left")
    np.testing.assert_allclose(Stations(plan, STANDARD).cut_on(route), 1.8412 * 343.2 / np.pi / 0.2, rtol=1e-4)
