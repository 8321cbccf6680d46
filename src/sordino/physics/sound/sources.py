"""What is looked up by name: loud sources, absorption of surfaces, boards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

import numpy as np

from sordino.bands import Bands, octave
from sordino.physics.sound.customary import POISSON, SPEED_OF_SOUND
from sordino.tables import table

SHEAR_FORM = 5.0 / 6.0
"""Share of a section that carries shear (Mindlin 1951; Reissner)."""

Basis = Literal["at 1 m", "in the room"]


@dataclass(frozen=True, kw_only=True, slots=True)
class LoudSource:
    """Octave levels of a source (dB), the place they stand for, and the half-width of their scatter (dB)."""

    kind: str
    levels: Bands
    basis: Basis
    scatter: float
    note: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Board:
    """A sheet material: density kg/m3, modulus Pa, loss factor, critical frequency times thickness Hz m.

    Shear modulus through the thickness Pa; `diagonal` and `in_reveal` as `leaf_waves.Leaf` has them;
    `has_spectrum` if a published one is among those the panels are held against.
    """

    name: str
    density: float
    modulus: float
    loss_factor: float
    coincidence: float
    shear: float
    diagonal: float
    in_reveal: bool
    has_spectrum: bool

    def surface_mass(self, thickness: float) -> float:
        """Mass of a sheet of a thickness (m), kg/m2."""
        return self.density * thickness

    def critical_frequency(self, thickness: float) -> float:
        """Critical frequency of a sheet of a thickness (m), Hz."""
        return self.coincidence / thickness

    def shear_frequency(self, thickness: float) -> float:
        """Above which a sheet of a thickness (m) shears rather than bends, c/(2 pi h) sqrt(12 (1 - 0.3^2) 5/6 G/E), Hz.

        There B k^2 = 5/6 G h for the wave of sound along the sheet (Mindlin 1951).
        """
        ratio = 12.0 * (1.0 - POISSON**2) * SHEAR_FORM * self.shear / self.modulus
        return float(SPEED_OF_SOUND / (2.0 * np.pi * thickness) * np.sqrt(ratio))


def loud_kinds() -> tuple[str, ...]:
    """Names of the loud sources on record."""
    return table("sound/loud_source").text("kind")


def loudest(kind: str) -> LoudSource:
    """The levels to keep in for a kind of source at its loudest; KeyError names the kinds there are.

    31.5 Hz NaN. A level "at 1 m" is the direct sound; "in the room" holds the room's own reflections.
    """
    row = table("sound/loud_source").row("kind", kind)
    eight = list(row.values())[3:11]
    return LoudSource(
        kind=kind,
        levels=octave(np.array([float(value) for value in eight])),
        basis=cast(Basis, row["basis"]),
        scatter=float(row["scatter"]),
        note=row["remark"],
    )


def surfaces() -> tuple[str, ...]:
    """Names of the surfaces whose absorption is on record."""
    return table("sound/absorption").text("surface")


def absorption(surface: str) -> Bands:
    """Absorption coefficients of a surface in nine bands, none above 1; KeyError names the surfaces there
    are.

    Measured from 125 Hz to 4 kHz; below, each octave is taken to halve it, and 8 kHz holds 4 kHz, both on the
    low side by judgement.
    """
    row = table("sound/absorption").row("surface", surface)
    six = np.minimum([float(value) for value in list(row.values())[1:]], 1.0)
    return np.concatenate([six[0] * np.array([0.25, 0.5]), six, six[-1:]])


def boards() -> tuple[str, ...]:
    """Names of the boards on record."""
    return table("sound/board").text("name")


def board_names() -> dict[str, str]:
    """Every name people use for a board, and the name it has on record."""
    known = table("sound/board")
    also = {word: name for name, words in zip(boards(), known.text("also"), strict=True) for word in words.split("; ")}
    return {name: name for name in boards()} | {word: name for word, name in also.items() if word}


def board(name: str) -> Board:
    """A board by name; KeyError names the boards there are."""
    row = table("sound/board").row("name", name)
    return Board(
        name=name,
        density=float(row["density"]),
        modulus=float(row["modulus"]),
        loss_factor=float(row["loss_factor"]),
        coincidence=float(row["coincidence"]),
        shear=float(row["shear"]),
        diagonal=float(row["diagonal"]),
        in_reveal=row["held"] == "reveal",
        has_spectrum=row["spectrum"] == "yes",
    )
