"""The model file, read back by the rules of glTF 2.0."""

from __future__ import annotations

import json
import struct
from typing import Any

import numpy as np
import pytest

from built import built
from sordino.build.model import model
from sordino.build.solid import solid


def read(data: bytes) -> tuple[dict[str, Any], bytes]:
    """The two chunks of a GLB file."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert (kind, size % 4) == (b"JSON", 0)
    content = json.loads(data[20 : 20 + size])
    more, kind = struct.unpack_from("<I4s", data, 20 + size)
    assert (kind, more % 4) == (b"BIN\0", 0)
    return content, data[28 + size : 28 + size + more]


def array(content: dict[str, Any], blob: bytes, index: int) -> Any:
    accessor = content["accessors"][index]
    view = content["bufferViews"][accessor["bufferView"]]
    kind = {5126: "<f4", 5125: "<u4"}[accessor["componentType"]]
    raw = np.frombuffer(blob[view["byteOffset"] : view["byteOffset"] + view["byteLength"]], kind)
    found = raw.reshape(-1, 3)
    assert raw.size == accessor["count"] * (3 if accessor["type"] == "VEC3" else 1)
    return found


@pytest.mark.parametrize("name", ["straight", "roof"])
def test_every_part_is_a_node_of_its_own_volume(name: str) -> None:
    """Closed, facing outwards, in metres."""
    kit = built(name)
    content, blob = read(model(kit))
    assert [node["name"] for node in content["nodes"]] == [piece.label for piece in kit.pieces]
    assert content["buffers"][0]["byteLength"] <= len(blob)
    for node, piece in zip(content["nodes"], kit.pieces, strict=True):
        (shape,) = content["meshes"][node["mesh"]]["primitives"]
        corners = array(content, blob, shape["attributes"]["POSITION"]).astype(float)
        a, b, c = (corners[array(content, blob, shape["indices"])[:, side]] for side in range(3))
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)
        assert volume == pytest.approx(solid(piece).volume() * 1e-9, rel=1e-4)


def test_it_stands_upright_and_is_as_large_as_the_box() -> None:
    """A labyrinth of 600 x 420 x 300 mm inside in 18 mm: y up, the front towards the one who looks."""
    content, blob = read(model(built("labyrinth")))
    every = np.concatenate(
        [array(content, blob, mesh["primitives"][0]["attributes"]["POSITION"]) for mesh in content["meshes"]]
    )
    assert np.ptp(every, axis=0) == pytest.approx([0.636, 0.456, 0.336], abs=1e-5)
    names = [node["name"] for node in content["nodes"]]
    front = array(content, blob, content["meshes"][names.index("A5")]["primitives"][0]["attributes"]["POSITION"])
    assert front[:, 2].max() == pytest.approx(every[:, 2].max())
