"""Which faces may be light: worked again from what each lets out."""

from __future__ import annotations

import numpy as np
import pytest

from boxed import boxed
from sordino.assess.box_answer import BoxAnswer, box_answer
from sordino.bands import energy_sum
from sordino.elements import box_walls

HEARD = slice(1, 6)


@pytest.fixture(scope="module")
def answer() -> BoxAnswer:
    return box_answer(boxed("serpentine"), "serpentine", size=0.08)


def test_every_face_says_where_it_faces_and_how_far_it_lies_under_the_whole(answer: BoxAnswer) -> None:
    """Margins are levels under the energy sum of all: together they make the whole again."""
    whole = energy_sum([face.radiated for face in answer.faces])
    for face in answer.faces:
        assert face.into == "loft"
        np.testing.assert_allclose(face.margin, whole - face.radiated, atol=1e-9)
        assert face.least_margin == pytest.approx(float((whole - face.radiated)[HEARD].min()))
    together = energy_sum([-face.margin for face in answer.faces])
    np.testing.assert_allclose(together, 0.0, atol=1e-9)


def test_a_light_face_could_lose_half_its_mass(answer: BoxAnswer) -> None:
    """Half as thick and heavy, worked again through the statement of the box: the whole rises by under 1 dB; others
    by 1 dB or more."""
    box, field = answer.built.build, answer.built.field
    assert field is not None
    whole = energy_sum([face.radiated for face in answer.faces])
    verdicts = {face.verdict for face in answer.faces}
    assert {"may be light", "must be heavy"} <= verdicts
    for face in answer.faces:
        half = type(box).model_validate(
            {
                "family": "serpentine",
                "length": "0.7 m",
                "width": "0.3 m",
                "height": "0.5 m",
                "faces": {face.face: [{"board": "plywood", "thickness": "9 mm"}]},
            }
        )
        leaks = box_walls.leaks(half, answer.built.section, field)
        assert next(leak.mass for leak in leaks if leak.face == face.face) == pytest.approx(face.mass / 2.0)
        rise = float((energy_sum([leak.share for leak in leaks]) - whole)[HEARD].max())
        assert rise == pytest.approx(face.if_half)
        assert (rise < 1.0) == (face.verdict == "may be light")
