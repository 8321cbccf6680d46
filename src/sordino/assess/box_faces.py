"""The faces of a box's casing: what each lets out, and whether it may be lighter or is worth more mass."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import COUNT, LINES_PER_BAND, Array, Bands, energy_sum
from sordino.elements import box_walls
from sordino.elements.box import Box
from sordino.elements.box_field import BoxField
from sordino.elements.built_box import BuiltBox

HEARD = slice(1, 6)
"""63 Hz to 1 kHz: the bands in which a casing is judged; above, sealing decides."""
LEAST = 1e-12
TELLS = 1.0
"""A change of the whole under this is not worth a board, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FaceShare:
    """One face of the casing."""

    face: str
    area: float
    mass: float
    """kg/m2."""
    inside: Bands
    """Level on its inside re the arriving wave, dB; NaN above the field."""
    radiated: Bands
    """Power it lets out re the power arriving at the inlet, dB."""
    share: Bands
    """Its part of all that the casing lets out, 0 to 1."""
    into: str
    """The space that hears it; empty if the plan names none."""
    if_half: float
    """Most that the whole casing lets out more, 63 Hz to 1 kHz, with this face half as thick and heavy, dB."""
    if_double: float
    """Most that the whole casing lets out less with this face twice as thick, dB."""

    @property
    def margin(self) -> Bands:
        """How far what it lets out lies under what the whole casing does, dB."""
        return -10.0 * np.log10(np.maximum(self.share, LEAST))

    @property
    def least_margin(self) -> float:
        """The least of these from 63 Hz to 1 kHz, dB."""
        return float(np.min(self.margin[HEARD]))

    @property
    def verdict(self) -> str:
        """Whether it `may be light`, `must be heavy`, or is right `as it is`.

        Light: it could lose half its mass without raising the whole by 1 dB in any octave.
        """
        if self.if_half < TELLS:
            return "may be light"
        return "must be heavy" if self.if_double >= TELLS else "as it is"


def face_shares(built: BuiltBox, field: BoxField) -> tuple[FaceShare, ...]:
    """Every face, the one that lets out most first."""
    box, leaks = built.build, box_walls.leaks(built.build, built.section, field)
    whole = energy_sum([leak.share for leak in leaks])
    return tuple(
        FaceShare(
            face=leak.face,
            area=leak.area,
            mass=leak.mass,
            inside=_inside(field, leak.face),
            radiated=leak.share,
            share=10.0 ** ((leak.share - whole) / 10.0),
            into=built.within or "",
            if_half=float(np.max((_whole(built, field, _scaled(box, leak.face, 0.5)) - whole)[HEARD])),
            if_double=float(np.max((whole - _whole(built, field, _scaled(box, leak.face, 2.0)))[HEARD])),
        )
        for leak in leaks
    )


def _whole(built: BuiltBox, field: BoxField, box: Box) -> Bands:
    return energy_sum([leak.share for leak in box_walls.leaks(box, built.section, field)])


def _scaled(box: Box, face: str, factor: float) -> Box:
    """The box with the boards of one face thinner or thicker."""
    layers = tuple(
        layer if layer.thickness is None else layer.model_copy(update={"thickness": factor * layer.thickness})
        for layer in box.layers(face)
    )
    return box.model_copy(update={"faces": {**box.faces, face: layers}})


def _inside(field: BoxField, face: str) -> Bands:
    pressures = np.max(field.faces[face][1], axis=1)
    bands = [pressures[i * LINES_PER_BAND : (i + 1) * LINES_PER_BAND] for i in range(COUNT)]
    return np.array([_level(band) if band.size else np.nan for band in bands])


def _level(squares: Array) -> float:
    return float(10.0 * np.log10(max(float(np.mean(squares)), 1e-20)))
