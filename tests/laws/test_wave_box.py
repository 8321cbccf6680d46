"""What any box must obey: passive, reciprocal, and blind to how it is meshed, mirrored or named."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sordino.errors import OutOfRange
from sordino.physics.wave.grid import FULL, grid
from sordino.physics.wave.operator import Filling, Film, operator
from sordino.physics.wave.porous import Fibre
from sordino.physics.wave.prism import Cut, Divider, Port, Prism, Region, Tube, lining, outline, rectangle, whole
from sordino.physics.wave.twoport import absorbed, four_pole, transmission_loss
from wave_cases import BATT, baffle_box, loss, round_silencer, serpentine, solved, through_duct

BAND = np.array([50.0, 110.0, 240.0, 430.0])
SIZE = 0.07


@st.composite
def boxes(draw: st.DrawFn, fibre: bool = True) -> Prism:
    """Random boxes: slopes, a divider, a lining, ports on any wall."""
    length, height, width = (draw(st.floats(low, high)) for low, high in ((0.6, 1.2), (0.5, 0.8), (0.3, 0.5)))
    run, drop = draw(st.sampled_from([(0.0, 0.0), (0.2, 0.15), (0.3, 0.1)]))
    tall = draw(st.floats(0.1, 0.6)) * height
    y = draw(st.sampled_from([0.5, 0.45])) * width
    ports = (
        Port(face="left", centre=(0.0, y, 0.15), diameter=0.16),
        draw(
            st.sampled_from(
                [
                    Port(face="right", centre=(length, y, 0.16), sides=(0.2, 0.15)),
                    Port(face="floor", centre=(length - 0.15, y, 0.0), diameter=0.2),
                    Port(face="front", centre=(length - 0.15, 0.0, 0.15), diameter=0.16),
                    Port(face="back", centre=(length - 0.15, width, 0.15), sides=(0.1, 0.2)),
                ]
            )
        ),
    )
    box = Prism(
        length=length,
        width=width,
        height=height,
        left=Cut(run=run, drop=drop),
        ports=ports,
        dividers=(Divider(x0=0.3, z0=0.0, x1=0.32, z1=tall),),
    )
    face = draw(st.sampled_from(["ceiling", "right", "front", "left slope" if run else "floor"]))
    return replace(box, regions=(lining(box, face, 0.06, 1),)) if fibre else box


@settings(max_examples=15, deadline=None)
@given(boxes(), st.floats(2e3, 4e4), st.sampled_from([None, 12.0, 60.0]), st.sampled_from([np.inf, 5.0, 20.0]))
def test_no_box_gains_and_all_are_reciprocal(box: Prism, resistivity: float, frame: float | None, mass: float) -> None:
    """Energy never comes out of fibre or plates, and both directions pass the same."""
    filling = Filling(fibres=(Fibre(resistivity=resistivity, limp_density=frame),), plates=(mass,))
    got = solved(box, SIZE, BAND, filling)
    assert (absorbed(got) > -1e-9).all()
    assert np.abs(got.scattering[:, 0, 1] - got.scattering[:, 1, 0]).max() < 1e-8
    assert np.abs(np.linalg.det(four_pole(got)) - 1).max() < 1e-6


@settings(max_examples=8, deadline=None)
@given(boxes(fibre=False), st.sampled_from([np.inf, 8.0]))
def test_a_lossless_box_keeps_energy(box: Prism, mass: float) -> None:
    """|S11|^2 + |S21|^2 = 1 without fibre, limp plates included."""
    assert np.abs(absorbed(solved(box, SIZE, BAND, Filling(plates=(mass,))))).max() < 1e-6


@settings(max_examples=8, deadline=None)
@given(st.floats(0.2, 0.4), st.floats(3e3, 3e4))
def test_a_symmetric_box_has_a_symmetric_two_port(high: float, resistivity: float) -> None:
    """Mirrored in its length, a box reflects the same from both ends."""
    box = through_duct(0.8, 0.6, 0.3, dividers=(Divider(x0=0.38, z0=high, x1=0.42, z1=0.6),))
    ports = tuple(replace(port, sides=(0.2, 0.15), centre=(port.centre[0], 0.15, 0.3)) for port in box.ports)
    box = replace(box, ports=(ports[0], ports[1]), regions=(lining(box, "floor", 0.1, 1),))
    s = solved(box, 0.05, BAND, Filling(fibres=(Fibre(resistivity=resistivity),))).scattering
    assert np.allclose(s[:, 0, 0], s[:, 1, 1], atol=1e-9)


@settings(max_examples=6, deadline=None)
@given(st.floats(0.3, 1.0), st.floats(1.2, 3.0))
def test_a_longer_lining_takes_more(length: float, ratio: float) -> None:
    """A straight lined duct of matched bore never loses attenuation by growing longer."""
    fibre = Filling(fibres=(Fibre(resistivity=1e4),))
    short, long = (loss(lined_duct(each), 0.03, BAND, fibre) for each in (length, ratio * length))
    assert (long > short - 0.05).all()


def lined_duct(length: float) -> Prism:
    """A 0.2 m wide flat duct with 0.1 m of fibre above, its bore running on in the ports."""
    bare = through_duct(length, 0.3, 0.03)
    ports = tuple(replace(port, sides=(0.2, 0.03), centre=(port.centre[0], 0.015, 0.1)) for port in bare.ports)
    return replace(bare, ports=(ports[0], ports[1]), regions=(lining(bare, "ceiling", 0.1, 1),))


def test_half_a_box_tells_the_whole() -> None:
    """The half model of a symmetric box gives what the whole gives; a hair off the middle, the whole is meshed."""
    box = serpentine()
    shifted = replace(
        box, regions=(*box.regions, Region(polygon=rectangle((0, 0), (1e-3, 1e-3)), fluid=1, front=0, back=0.225))
    )
    assert grid(box, 0.09).half
    assert not grid(shifted, 0.09).half
    assert np.allclose(loss(box, 0.0751, BAND[:3], BATT), loss(shifted, 0.0751, BAND[:3], BATT), atol=0.02)


def test_turned_sideways_a_box_is_the_same() -> None:
    """Mirroring length, or laying the profile's height along its length, changes nothing."""
    box = baffle_box(0.05, lined=True)
    fibre = Filling(fibres=(Fibre(resistivity=1e4),))
    swapped = Prism(
        length=0.5,
        width=0.05,
        height=0.8,
        ports=(
            Port(face="floor", centre=(0.15, 0.025, 0.0), sides=(0.15, 0.05)),
            Port(face="ceiling", centre=(0.35, 0.025, 0.8), sides=(0.15, 0.05)),
        ),
        regions=tuple(replace(r, polygon=tuple((z, x) for x, z in r.polygon)) for r in box.regions),
    )
    assert np.allclose(loss(box, 0.05, BAND, fibre), loss(swapped, 0.05, BAND, fibre), atol=1e-9)


def test_a_slope_that_cuts_nothing_changes_nothing() -> None:
    """A cut of no size is no cut, and a cut of 1 mm is heard by nobody."""
    box = baffle_box(0.05)
    flat = loss(box, 0.05, BAND)
    assert np.array_equal(flat, loss(replace(box, left=Cut(run=0.0, drop=0.0)), 0.05, BAND))
    assert np.allclose(flat, loss(replace(box, left=Cut(run=1e-3, drop=1e-3)), 0.05, BAND), atol=0.05)


@pytest.mark.parametrize("size", [0.21, 0.09])
def test_wedges_fill_the_profile(size: float) -> None:
    """The mass of air adds up to the volume under both slopes, and a constant pressure has no stiffness."""
    box = replace(
        through_duct(0.9, 0.6, 0.3, dividers=(Divider(x0=0.4, z0=0.0, x1=0.43, z1=0.27),)),
        left=Cut(run=0.3, drop=0.4),
        right=Cut(run=0.45, drop=0.35),
        ports=(
            Port(face="left", centre=(0, 0.1, 0.1), diameter=0.1),
            Port(face="floor", centre=(0.7, 0.1, 0), diameter=0.1),
        ),
    )
    x, z = np.array(outline(box)).T
    area = abs(np.dot(x, np.roll(z, 1)) - np.dot(z, np.roll(x, 1))) / 2 - 0.03 * 0.27
    of = operator(box, size)
    one = np.ones(of.size)
    assert of.sparse(of.terms[1]).dot(one).sum() == pytest.approx(0.3 * area, rel=1e-12)
    assert np.abs(of.sparse(of.terms[0]).dot(one)).max() < 1e-12


def test_a_divider_that_meets_a_slope_seals() -> None:
    """Two rooms, one above the other under a slope: nothing passes a rigid divider, mass law or so passes a limp
    one."""
    box = Prism(
        length=1.0,
        width=0.3,
        height=0.8,
        left=Cut(run=0.8, drop=0.6),
        dividers=(Divider(x0=0.24, z0=0.41, x1=1.0, z1=0.44),),
        ports=(
            Port(face="right", centre=(1.0, 0.15, 0.2), diameter=0.2),
            Port(face="right", centre=(1.0, 0.15, 0.62), diameter=0.2),
        ),
    )
    assert loss(box, 0.07, BAND).min() > 200
    limp = loss(box, 0.07, BAND, Filling(plates=(6.0,)))
    assert ((limp > 1) & (limp < 80)).all()


def test_a_port_may_sit_on_a_slope() -> None:
    """Sound enters through a slope and keeps its energy."""
    box = Prism(
        length=1.0,
        width=0.4,
        height=0.8,
        left=Cut(run=0.5, drop=0.4),
        ports=(
            Port(face="left slope", centre=(0.25, 0.2, 0.6), diameter=0.2),
            Port(face="right", centre=(1.0, 0.2, 0.4), diameter=0.2),
        ),
    )
    got = solved(box, 0.06, BAND)
    assert np.abs(absorbed(got)).max() < 1e-9
    assert (transmission_loss(got) > 0.5).any()


def straight(film: bool) -> Prism:
    """A 160 mm tube through a box of fibre."""
    box = Prism(
        length=0.5,
        width=0.3,
        height=0.3,
        ports=(
            Port(face="left", centre=(0.0, 0.15, 0.15), diameter=0.16),
            Port(face="right", centre=(0.5, 0.15, 0.15), diameter=0.16),
        ),
        tube=Tube(centreline=((0.0, 0.15, 0.15), (0.5, 0.15, 0.15)), radius=0.08, film=film),
    )
    return replace(box, regions=(whole(box, 1),))


def test_film_between_open_and_sealed() -> None:
    """A film of almost no mass is an open core, one of great mass a rigid pipe."""
    fibre = Fibre(resistivity=8e3)
    bare = loss(straight(False), 0.04, BAND, Filling(fibres=(fibre,)))
    light, heavy = (
        loss(straight(True), 0.04, BAND, Filling(fibres=(fibre,), film=Film(mass=mass))) for mass in (1e-5, 1e4)
    )
    assert np.allclose(light, bare, rtol=0.04)
    assert np.allclose(heavy, 0.0, atol=0.02)
    assert bare.max() > 5


def test_film_does_not_follow_the_grid() -> None:
    """From 25 to 12 mm a film's transmission loss moves by less than 0.5 dB."""
    filling = Filling(fibres=(Fibre(resistivity=8e3),), film=Film(mass=0.15, resistance=30.0))
    coarse, fine = (loss(straight(True), size, BAND, filling) for size in (0.025, 0.0125))
    assert np.allclose(coarse, fine, atol=0.5)


def observed_order(box: object, sizes: tuple[float, float, float], filling: Filling) -> float:
    """Order p from three grids, each twice as fine: lg2 of the ratio of steps in S21."""
    at = np.array([200.0, 350.0, 500.0])
    a, b, c = (solved(box, size, at, filling).scattering[:, 1, 0] for size in sizes)  # type: ignore[arg-type]
    return float(np.log2(np.linalg.norm(a - b) / np.linalg.norm(b - c)))


def test_second_order_where_interfaces_follow_the_grid() -> None:
    """A lined duct in line with its ports: no corner, every interface on a grid line."""
    assert observed_order(lined_duct(0.5), (0.05, 0.025, 0.0125), Filling(fibres=(Fibre(resistivity=1e4),))) > 1.8


def test_first_order_where_they_cross_it() -> None:
    """A round core through fibre, cut by the grid anyhow: on the average half the cell size is half the error or
    less."""
    fibre = Filling(fibres=(Fibre(resistivity=8e3),))
    best = loss(straight(False), 0.0135, BAND, fibre)
    coarse, fine = (
        np.mean([np.abs(loss(straight(False), size, BAND, fibre) - best) for size in sizes])
        for sizes in ((0.06, 0.05, 0.04), (0.03, 0.025, 0.02))
    )
    assert fine < coarse / 2


def test_round_chamber_is_the_same_either_way() -> None:
    """From left to right or from right to left, filled or not."""
    s = solved(round_silencer(0.05, 0.12, 0.3, filled=True), 0.01, BAND, BATT).scattering
    assert np.allclose(s[:, 0, 0], s[:, 1, 1], atol=1e-9)


def test_faulty_statements_are_named() -> None:
    """Ports off the face or behind a divider, sizes below zero, and fillings that do not fit."""
    box = baffle_box(0.05)
    high = Port(face="left", centre=(0.0, 0.025, 0.45), sides=(0.15, 0.05))
    with pytest.raises(OutOfRange, match="port on the left does not lie wholly on open face"):
        operator(replace(box, ports=(high, box.ports[1])), 0.05)
    with pytest.raises(OutOfRange, match="width is -1 m"):
        replace(box, width=-1.0)
    with pytest.raises(OutOfRange, match="reaches outside"):
        replace(box, dividers=(Divider(x0=0.5, z0=0.0, x1=0.52, z1=0.7),))
    with pytest.raises(OutOfRange, match="names 0 fibres; the regions ask for 1"):
        loss(baffle_box(0.05, lined=True), 0.05, BAND)
    with pytest.raises(OutOfRange, match="a film belongs to a tube"):
        loss(box, 0.05, BAND, Filling(film=Film(mass=0.1)))
    with pytest.raises(OutOfRange, match="surface mass is 0 kg/m2"):
        loss(baffle_box(0.05, divided=True), 0.05, BAND, Filling(plates=(0.0,)))
    with pytest.raises(OutOfRange, match="needs a mass or a flow resistance"):
        loss(straight(True), 0.05, BAND, Filling(fibres=BATT.fibres, film=Film(mass=0.0)))
    with pytest.raises(OutOfRange, match=r"is 0\.0533 m from the duct's centreline; its radius is 0\.125 m"):
        replace(serpentine(), dividers=(Divider(x0=0.0, z0=0.275, x1=0.55, z1=0.3),))
    with pytest.raises(OutOfRange, match="takes regions only"):
        replace(round_silencer(0.05, 0.1, 0.3), left=Cut(run=0.1, drop=0.05))
    assert (grid(box, 0.05).kinds == FULL).all()
