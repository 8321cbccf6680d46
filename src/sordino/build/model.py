"""A box as a model to turn about: one GLB file (Khronos glTF 2.0), metres, y up, a node for each part by its label."""

from __future__ import annotations

import json
import struct
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.build.kit import Kit
from sordino.build.order import Piece
from sordino.build.part import Stick
from sordino.build.solid import solid

MAGIC, VERSION = 0x46546C67, 2
JSON_CHUNK, BIN_CHUNK = 0x4E4F534A, 0x004E4942
FLOATS, INTEGERS = 5126, 5125
CORNERS, TRIANGLES = 34962, 34963
PAINTS = {
    "panel": (0.80, 0.68, 0.49, 1.0),
    "divider": (0.62, 0.47, 0.32, 1.0),
    "stick": (0.44, 0.53, 0.45, 1.0),
    "lid": (0.86, 0.80, 0.68, 0.35),
}
"""Colours of our own; the boards that close last let one see through."""


def model(kit: Kit) -> bytes:
    """The bytes of a GLB file."""
    names = list(PAINTS)
    blob, views, accessors, meshes, nodes = b"", list[Any](), list[Any](), list[Any](), list[Any]()
    for index, piece in enumerate(kit.pieces):
        corners, faces = triangles(piece)
        for data, target in ((corners, CORNERS), (faces, TRIANGLES)):
            views.append({"buffer": 0, "byteOffset": len(blob), "byteLength": data.nbytes, "target": target})
            blob += data.tobytes()
        accessors += _accessors(corners, faces, 2 * index)
        attributes = {"attributes": {"POSITION": 2 * index}, "indices": 2 * index + 1}
        meshes.append({"name": piece.label, "primitives": [attributes | {"material": names.index(_paint(piece, kit))}]})
        nodes.append({"name": piece.label, "mesh": index})
    return _file(
        {
            "asset": {"version": "2.0", "generator": "Sordino"},
            "scene": 0,
            "scenes": [{"name": kit.name, "nodes": list(range(len(nodes)))}],
            "nodes": nodes,
            "meshes": meshes,
            "materials": [_material(name) for name in names],
            "accessors": accessors,
            "bufferViews": views,
            "buffers": [{"byteLength": len(blob)}],
        },
        blob,
    )


def triangles(piece: Piece) -> tuple[Array, Array]:
    """Corners in m with y up, float32 (n, 3), and the triangles between them, uint32 (m, 3)."""
    mesh = solid(piece).to_mesh()
    x, y, z = (np.asarray(mesh.vert_properties)[:, axis] / 1e3 for axis in range(3))
    return np.stack([x, z, -y], axis=1).astype("<f4"), np.asarray(mesh.tri_verts).astype("<u4")


def _paint(piece: Piece, kit: Kit) -> str:
    if isinstance(piece, Stick):
        return "stick"
    return "lid" if piece in kit.lid else piece.kind


def _material(name: str) -> dict[str, Any]:
    colour = PAINTS[name]
    surface = {"baseColorFactor": list(colour), "metallicFactor": 0.0, "roughnessFactor": 0.9}
    see_through = {"alphaMode": "BLEND"} if colour[3] < 1.0 else {}
    return {"name": name, "pbrMetallicRoughness": surface, **see_through}


def _accessors(corners: Array, faces: Array, view: int) -> list[dict[str, Any]]:
    low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    points = {"bufferView": view, "componentType": FLOATS, "count": len(corners), "type": "VEC3"}
    indices = {"bufferView": view + 1, "componentType": INTEGERS, "count": faces.size, "type": "SCALAR"}
    return [points | {"min": low, "max": high}, indices]


def _file(content: dict[str, Any], blob: bytes) -> bytes:
    text = json.dumps(content, separators=(",", ":")).encode()
    chunks = _chunk(JSON_CHUNK, text, b" ") + _chunk(BIN_CHUNK, blob, b"\0")
    return struct.pack("<III", MAGIC, VERSION, 12 + len(chunks)) + chunks


def _chunk(kind: int, data: bytes, filler: bytes) -> bytes:
    """A chunk whose length is a multiple of four."""
    padded = data + filler * (-len(data) % 4)
    return struct.pack("<II", len(padded), kind) + padded
