"""Layered walls."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from pydantic import TypeAdapter, ValidationError

from sordino.elements.buildup import Buildup, leaves, scatter_key, surface_mass, thickness, transmission_loss

_BUILDUP: TypeAdapter[Buildup] = TypeAdapter(Buildup)
PLY: dict[str, Any] = {"board": "plywood", "thickness": "18 mm"}
GYPSUM: dict[str, Any] = {"board": "gypsum board", "thickness": "15 mm"}
GAP: dict[str, Any] = {"cavity": "100 mm"}


def built(*layers: dict[str, Any]) -> Buildup:
    """A build-up as a file states it."""
    return _BUILDUP.validate_python(list(layers))


def test_mass_and_thickness_add_up() -> None:
    """18 mm of 600 kg/m3 is 10.8 kg/m2 (trade data, memory); cavities weigh nothing."""
    wall = built(PLY, GAP, PLY, {"damping": True}, PLY)
    assert surface_mass(wall) == pytest.approx(3 * 10.8)
    assert thickness(wall) == pytest.approx(0.154)
    assert [leaf.surface_mass for leaf in leaves(wall)] == pytest.approx([10.8, 21.6])


def test_one_leaf_follows_the_mass_law_at_low_frequency() -> None:
    """R = 20 lg(m f) - 47 for 18 mm plywood (derived): 14.9 dB at 125 Hz, two dB for band, size and damping."""
    assert transmission_loss(built(PLY))[2] == pytest.approx(14.9, abs=2.0)


def test_a_size_counts() -> None:
    """A panel of a box radiates less above its first mode (51 Hz) than a wall; a bare sheet alone is endless."""
    wall, panel = transmission_loss(built(GYPSUM)), transmission_loss(built(GYPSUM), (0.9, 0.6))
    assert np.all(panel[2:4] > wall[2:4] + 1.0)
    assert panel[1] < wall[1] - 3.0
    steel = {"board": "steel sheet", "thickness": "1 mm"}
    assert np.all(transmission_loss(built(steel))[:5] < transmission_loss(built(steel), (4.0, 3.0))[:5] - 0.5)


def test_two_sheets_gain_what_mass_gives() -> None:
    """6 dB for twice the mass, where no coincidence is near."""
    gain = transmission_loss(built(GYPSUM, GYPSUM)) - transmission_loss(built(GYPSUM))
    np.testing.assert_allclose(gain[1:5], 6.0, atol=0.3)


def test_damping_helps_at_coincidence_only() -> None:
    """A compound between two boards leaves the mass law alone."""
    plain, damped = (
        transmission_loss(built(GYPSUM, GYPSUM)),
        transmission_loss(built(GYPSUM, {"damping": True}, GYPSUM)),
    )
    np.testing.assert_allclose(damped[1:4], plain[1:4], atol=0.1)
    assert damped[6] > plain[6] + 3.0


def test_studs_that_cross_a_cavity_tie_its_boards_together() -> None:
    """Fewer ties lose more, channels more again, no studs most; below resonance nothing changes."""
    gap = GAP | {"cavity": "89 mm"}
    walls = [gap | {"studs": "400 mm"}, gap | {"studs": "600 mm"}, gap | {"studs": "600 mm", "resilient": True}, gap]
    losses = np.array([transmission_loss(built(GYPSUM, each, GYPSUM)) for each in walls])
    assert np.all(np.diff(losses, axis=0) >= 0.0)
    assert losses[3, 4] - losses[1, 4] > 6.0
    assert losses[:, 0] == pytest.approx(losses[3, 0])


def test_one_cavity_without_studs_parts_a_wall() -> None:
    crossed = GAP | {"studs": "600 mm"}
    assert transmission_loss(built(GYPSUM, crossed, GAP, GYPSUM)) == pytest.approx(
        transmission_loss(built(GYPSUM, GAP, GAP, GYPSUM))
    )


@pytest.mark.parametrize(
    "layer", [PLY | {"studs": "600 mm"}, GAP | {"resilient": True}, {"damping": True, "studs": "400 mm"}]
)
def test_studs_are_told_of_cavities_alone(layer: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="studs"):
        built(GYPSUM, layer, GYPSUM)


def test_a_cavity_pays_above_its_resonance() -> None:
    """Two leaves apart beat the same boards together from 250 Hz; fibre in the gap helps above its resonance."""
    together, apart = transmission_loss(built(GYPSUM, GYPSUM)), transmission_loss(built(GYPSUM, GAP, GYPSUM))
    empty = transmission_loss(built(GYPSUM, GAP | {"filled": False}, GYPSUM))
    assert np.all(apart[3:7] > together[3:7] + 5.0)
    assert np.all(apart[2:] > empty[2:] + 1.0)


def test_each_kind_of_wall_has_its_scatter() -> None:
    """One leaf or two, and a wider one where no spectrum was at hand."""
    assert scatter_key(built(PLY)) == "panel loss"
    for name in ("MDF", "OSB"):
        other = built({"board": name, "thickness": "18 mm"}, {"damping": True}, PLY)
        assert scatter_key(other) == "panel loss without a published spectrum"
    assert scatter_key(built(PLY, GAP, PLY)) == "double leaf loss"


@pytest.mark.parametrize(
    "layer",
    [
        {},
        {"board": "plywood"},
        {"board": "plywood", "thickness": "18 mm", "damping": True},
        {"board": "cheese", "thickness": "18 mm"},
        {"cavity": "0 mm"},
    ],
)
def test_what_no_layer_is(layer: dict[str, Any]) -> None:
    """Nothing, a board of no thickness, two things at once, no board on record, an empty gap."""
    with pytest.raises(ValidationError):
        built(layer)
