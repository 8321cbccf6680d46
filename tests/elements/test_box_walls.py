"""What single faces of a box let out and in, against formulas worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from boxed import BOXES, boxed
from sordino.assess.airborne import escaping
from sordino.assess.box_answer import standing
from sordino.assess.boxes import field_of
from sordino.assess.spread import half_width
from sordino.bands import LINES
from sordino.elements import box_walls, buildup
from sordino.elements.box import Box
from sordino.elements.box_field import CASES, BoxField
from sordino.elements.built_box import BuiltBox, default_ceiling
from sordino.physics.air.properties import STANDARD
from sordino.quantities import Size

RHO_C = 1.204 * 343.2
COARSE = 0.1


def built(name: str, **changed: str) -> BuiltBox:
    """A small box of each family, its field solved."""
    part = standing(boxed(name, **changed), name).built
    found = field_of(part.build, part.section, STANDARD, COARSE, CASES[:2])
    return part.model_copy(update={"solved": found})


def solved(part: BuiltBox) -> tuple[Box, Size, BoxField]:
    """What the functions ask for."""
    assert part.field is not None
    return part.build, part.section, part.field


@pytest.mark.parametrize("name", BOXES)
def test_sides_of_the_faces_are_those_of_the_field(name: str) -> None:
    """Their area is what is meshed, but for the edges of dividers that stand on a face."""
    box, _, field = solved(built(name))
    for face, (area, _) in field.faces.items():
        longer, shorter = box_walls.face_sides(box, face)
        assert longer >= shorter
        assert area <= longer * shorter * (1.0 + 1e-9)
        assert area == pytest.approx(longer * shorter, rel=0.08)


def test_a_heavy_face_pushed_at_once_by_hand() -> None:
    """50 Hz, far below the first mode (359 Hz) of a 0.25 m square of 18 mm plywood: a spring.

    Stiffness m w1^2, B = m (c^2/2 pi f_c)^2 0.613, w1 = pi^2 sqrt(B/m) 2/a^2 (Leissa 1969); s = (w/c)^2 S/2 pi; the
    share is (rho c)^2 s / (m w1^2/w)^2.
    """
    box = built("straight").build
    mass, critical, omega = 10.8, 19.7 / 0.018, 2.0 * np.pi * LINES
    bending = mass * (343.2**2 / (2.0 * np.pi * critical)) ** 2 * (1.0 + 0.226) / 2.0
    first = np.pi / 2.0 * np.sqrt(bending / mass) * 2.0 / 0.25**2
    radiation = (omega / 343.2) ** 2 * 0.25**2 / (2.0 * np.pi)
    by_hand = RHO_C**2 * radiation / (mass * (2.0 * np.pi * first) ** 2 / omega) ** 2
    ours = box_walls.panel_share(box, "left", 0.0)
    low = LINES < 60.0
    np.testing.assert_allclose(ours[low], by_hand[low], rtol=0.08)


def test_from_twice_the_first_cavity_mode_a_face_is_in_a_diffuse_field() -> None:
    """W = <p^2> S tau / 4 rho c with tau of a panel of its own sides."""
    box = built("straight").build
    high = LINES > 2.0 * 343.2 / (2.0 * 0.8)
    tau = 10.0 ** (-buildup.loss_at_lines(box.shell, (0.8, 0.25)) / 10.0)
    np.testing.assert_allclose(box_walls.panel_share(box, "floor", 50.0)[high], tau[high] / 4.0)


def test_a_light_piston_takes_what_a_matched_end_would() -> None:
    """A duct that ends in a wall-sized panel sees twice p+ if that is held: R = rho c S 4/4 Sd = rho c.

    So a face without mass that radiates like a duct (s = 1) lets out everything, (rho c)^2 4/(rho c + rho c)^2 = 1.
    """
    whole = buildup.pushed_panel(built("straight").build.shell, (0.5, 0.5))
    light = replace(whole, pressure=np.full(81, RHO_C + 0j), velocity=np.ones(81), radiation=np.ones(81))
    np.testing.assert_allclose(4.0 * light.share(RHO_C), 1.0)
    assert (4.0 * light.share(0.0) > 1.0).all()


def test_a_double_casing_beats_both_its_boards_together_above_its_resonance() -> None:
    """Whether light or heavy board lies inside; 8 and 12 kg/m2 on 90 mm meet at 78 Hz if filled."""
    light, heavy = ({"board": "gypsum board", "thickness": f"{1e3 * mass / 750.0} mm"} for mass in (8.0, 12.0))
    gap = {"cavity": "90 mm"}
    values = {"family": "straight", "length": "0.8 m", "width": "0.8 m", "height": "0.8 m", "passes": 1}
    shells = ([light, gap, heavy], [heavy, gap, light], [light, heavy])
    inward, outward, single = (
        box_walls.panel_share(Box.model_validate(values | {"shell": shell}), "left", 0.0) for shell in shells
    )
    between = (LINES > 130.0) & (LINES < 200.0)
    assert (inward[between] < single[between]).all()
    assert (outward[between] < single[between]).all()
    np.testing.assert_allclose(inward[:20], outward[:20], rtol=0.5)


@pytest.mark.parametrize("name", ["labyrinth", "serpentine", "roof"])
def test_sound_comes_in_by_the_way_it_goes_out(name: str) -> None:
    """<p^2> around sends <p^2>/(rho c) (c/f)^2/4 pi out into the duct: where one line rules, breakout + break-in.

    With Lw on the wall = Lp + 10 lg S - 6 and half of it each way, as break-in is counted in a run.
    """
    box, section, field = solved(built(name))
    out = box_walls.let_out(box, section, field).max(axis=0)
    wall = box_walls.wall(box, section, field, 0.1)
    capture = (343.2 / LINES) ** 2 / (4.0 * np.pi)
    caught = 10.0 * np.log10((out * capture).reshape(9, 9).mean(axis=1))
    ours = 10.0 * np.log10(wall.outer_area / 4.0) - wall.breakin - 3.0
    np.testing.assert_allclose(ours, caught, atol=0.2)


def test_a_face_in_resonance_is_loaded_by_what_it_would_send_back() -> None:
    """R = rho c S (g1 + g2)/4 Sd by reciprocity, worked from the field: at 125 Hz 18 mm lets out under half."""
    box, section, field = solved(built("serpentine"))
    front = next(leak for leak in box_walls.leaks(box, section, field) if leak.face == "front")
    area, squares = field.faces["front"]
    low = LINES[: field.frequency.size] < 240.0
    load = np.zeros(81)
    load[: low.size] = RHO_C * area * squares.sum(axis=1) / (4.0 * np.pi / 4.0 * 0.125**2)
    panel = buildup.pushed_panel(box.shell, (0.7, 0.5))
    for port in (0, 1):
        by_hand, free = (
            squares[:, port] * area / (np.pi / 4.0 * 0.125**2) * panel.share(each)[: low.size] for each in (load, 0.0)
        )
        np.testing.assert_allclose(front.by_port[port, : low.size][low], by_hand[low], rtol=1e-6)
        assert by_hand[18:27].max() < 0.5 * free[18:27].max()
        assert (by_hand[low] < 1.0).all()


@pytest.mark.parametrize("name", ["labyrinth", "straight"])
def test_what_leaves_by_the_wall_is_what_the_faces_let_out(name: str) -> None:
    """Waves both ways in the duct, (1 + |R|^2) of what arrives, less the breakout; not shortened again."""
    box, section, field = solved(built(name))
    wall = box_walls.wall(box, section, field, 0.1)
    count, band = field.frequency.size, slice(27, 36)
    assert count >= 36
    out = (box_walls.let_out(box, section, field)[:, :count] / (1.0 + field.reflected.T)).max(axis=0)
    assert wall.breakout[3] == pytest.approx(-10.0 * np.log10(out[band].mean()))
    for drop in (8.0, 20.0):
        heard = escaping(np.zeros(9), wall, np.full(9, drop))
        most = 10.0 * np.log10(1.0 - 10.0 ** (-drop / 10.0))
        np.testing.assert_allclose(heard, np.minimum(-wall.breakout, most))


def test_one_lighter_face_lets_out_more_and_only_it() -> None:
    """The same field: the faces that stay let out what they did; at 63 Hz thin board is far less stiff."""
    box, section, field = solved(built("labyrinth"))
    thin = Box.model_validate(
        {"family": "labyrinth", "length": "0.6 m", "width": "0.3 m", "height": "0.42 m", "lining": "25 mm"}
        | {"faces": {"left": [{"board": "plywood", "thickness": "6 mm"}]}}
    )
    before, after = ({leak.face: leak for leak in box_walls.leaks(each, section, field)} for each in (box, thin))
    assert after["left"].share[1] > before["left"].share[1] + 10.0
    for face in ("right", "floor", "front"):
        np.testing.assert_array_equal(after[face].by_port, before[face].by_port)


def test_the_ceiling_is_the_energy_sum_of_its_ways() -> None:
    """Two ways of the same loss take 3 dB less together; without a field the casing counts twice over."""
    part = built("roof")
    box, section, field = solved(part)
    casing = box_walls.there_and_back(box, section, field)
    both = -10.0 * np.log10(10.0 ** (-casing / 10.0) + 10.0 ** (-default_ceiling() / 10.0))
    np.testing.assert_allclose(part.ceiling(), both)
    np.testing.assert_allclose(box_walls.there_and_back(box, section, None), 2.0 * box_walls.weakest(box))


def test_a_board_without_a_published_spectrum_is_told() -> None:
    """MDF on one face is enough."""
    assert box_walls.scatter_key(built("straight").build) == "panel loss"
    mdf = '{ left = [{ board = "MDF", thickness = "18 mm" }] }'
    with_mdf = standing(boxed("straight", faces=mdf), "straight").built
    assert with_mdf.wall().scatter == box_walls.scatter_key(with_mdf.build) == "panel loss without a published spectrum"
    assert (half_width(with_mdf.wall().scatter) > half_width(built("straight").wall().scatter)).all()
