"""Boxes that several wave tests share; the figures of the cases come from their checks, not from here."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.line import rounded
from sordino.physics.wave.operator import Filling, operator
from sordino.physics.wave.porous import Fibre
from sordino.physics.wave.prism import Divider, Port, Prism, Region, Tube, rectangle, whole
from sordino.physics.wave.solve import sweep
from sordino.physics.wave.twoport import TwoPort, transmission_loss

PLAIN = Filling()


def loss(prism: Prism, size: float, frequency: Array, filling: Filling = PLAIN) -> Array:
    """Transmission loss solved in full, dB."""
    return transmission_loss(solved(prism, size, frequency, filling))


def solved(prism: Prism, size: float, frequency: Array, filling: Filling = PLAIN) -> TwoPort:
    """The two-port solved in full at every frequency."""
    return sweep(operator(prism, size), filling, np.asarray(frequency, float))


def serpentine(film: bool = False) -> Prism:
    """Two passes of 250 mm duct in 1.00 x 0.90 x 0.45 m of fibre, a 25 mm divider between them."""
    y, low, high = 0.225, 0.21875, 0.68125
    line = rounded(((0.0, y, low), (0.75, y, low), (0.75, y, high), (0.0, y, high)), 0.23)
    box = Prism(
        length=1.0,
        width=0.45,
        height=0.90,
        ports=(
            Port(face="left", centre=(0.0, y, low), diameter=0.25),
            Port(face="left", centre=(0.0, y, high), diameter=0.25),
        ),
        dividers=(Divider(x0=0.0, z0=0.4375, x1=0.55, z1=0.4625),),
        tube=Tube(centreline=line, radius=0.125, film=film),
    )
    return replace(box, regions=(whole(box, 1),))


BATT = Filling(fibres=(Fibre(resistivity=5e3),))


def baffle_box(width: float, lined: bool = False, divided: bool = False) -> Prism:
    """The flat box of 0.80 x 0.50 m with 0.15 m ports, one slice thick."""
    middle = width / 2
    layers = [((0, 0), (0.05, 0.5)), ((0.75, 0), (0.8, 0.5)), ((0, 0), (0.8, 0.05)), ((0, 0.45), (0.8, 0.5))]
    holes = [((0, 0.075), (0.05, 0.225)), ((0.75, 0.275), (0.8, 0.425))]
    painted = [(corners, 1) for corners in layers] + [(corners, 0) for corners in holes]
    return Prism(
        length=0.8,
        width=width,
        height=0.5,
        ports=(
            Port(face="left", centre=(0.0, middle, 0.15), sides=(0.15, width)),
            Port(face="right", centre=(0.8, middle, 0.35), sides=(0.15, width)),
        ),
        regions=tuple(
            Region(polygon=rectangle(*corners), fluid=fluid, front=0.0, back=width) for corners, fluid in painted
        )
        if lined
        else (),
        dividers=(Divider(x0=0.375, z0=0.0, x1=0.425, z1=0.3),) if divided else (),
    )


def round_silencer(bore: float, shell: float, length: float, filled: bool = False) -> Prism:
    """A concentric round chamber, its profile turned about the axis; radii and length in m."""
    packing = Region(polygon=rectangle((0, bore), (length, shell)), fluid=1, front=0.0, back=1.0)
    return Prism(
        length=length,
        width=1.0,
        height=shell,
        turned=True,
        ports=(
            Port(face="left", centre=(0.0, 0.5, 0.0), diameter=2 * bore),
            Port(face="right", centre=(length, 0.5, 0.0), diameter=2 * bore),
        ),
        regions=(packing,) if filled else (),
    )


def through_duct(length: float, height: float, width: float, **more: object) -> Prism:
    """A straight rectangular duct whose whole ends are its ports."""
    middle = (width / 2, height / 2)
    return Prism(
        length=length,
        width=width,
        height=height,
        ports=(
            Port(face="left", centre=(0.0, *middle), sides=(height, width)),
            Port(face="right", centre=(length, *middle), sides=(height, width)),
        ),
        **more,  # type: ignore[arg-type]
    )
