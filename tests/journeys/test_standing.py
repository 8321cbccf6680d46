"""Mistakes that builders tell of: each triggers its finding in a small project, and the mended project has none."""

from __future__ import annotations

import pytest

from structures import BOOTH, assessed, missed

SPACE = '[["0 m", "0 m"], ["2.2 m", "0 m"], ["0 m", "1.5 m"]]'
LOW_SPACE = '[["0 m", "0 m"], ["0.9 m", "0 m"], ["0.9 m", "0.5 m"], ["0 m", "0.5 m"]]'
PIPE = (
    '[["0 m", "0 m"], ["0.9 m", "0 m"], ["0.9 m", "0.5 m"], ["0.4 m", "0.5 m"], ["0.4 m", "0.8 m"], ["0 m", "0.8 m"]]'
)
WHOLE = ('way = ["hatch"]', 'way = ["hatch"]\nbrought = "whole"')
TIGHT = ('width = "0.62 m"\nheight = "0.55 m"', 'width = "0.50 m"\nheight = "0.46 m"')
LONG = ('length = "2.5 m"', 'length = "1.3 m"')
FRESH = BOOTH[BOOTH.index("[run.fresh]") : BOOTH.index("[opening.hatch]")]
HEATER = ("[opening.hatch]", '[appliance.heater]\nis = "open-flued"\nin = "loft"\n[opening.hatch]')
RATED = ('area = "2.8 m2"', 'area = "2.8 m2"\nfire_rated = true')
SOFT = (
    '{ is = "metal duct", length = "1 m" }, { is = "lined box"',
    '{ is = "flexible duct", length = "1 m" }, { is = "lined box"',
)

MISTAKES: dict[str, tuple[str, tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]]] = {
    "the wall is closed and the box does not fit the space that is left": ("fit", ((SPACE, LOW_SPACE),), ()),
    "a pipe crosses the void": ("fit", ((SPACE, PIPE),), ()),
    "nobody can reach the screws of the far end": (
        "fit",
        (LONG,),
        (LONG, ('way = ["hatch"]', 'clearances = { ends = "10 mm" }')),
    ),
    "the box is built, and does not go through the hatch": ("fit", (WHOLE, TIGHT), (TIGHT,)),
    "it is too heavy to be lifted whole": ("lifting", (WHOLE,), ()),
    "a plank is put under it because nobody can hold it up there": (
        "lifting",
        (("lift = { persons = 2 }", 'lift = { persons = 2, to = "2.1 m" }'),),
        (("lift = { persons = 2 }", 'lift = { hoist = true, to = "2.1 m" }'),),
    ),
    "it hangs from drywall screws": ("hanging", (('screw = "lag screw"', 'screw = "drywall screw"'),), ()),
    "it hangs from joists that already carry all they can": (
        "hanging",
        (('dead = "24 kg/m2"', 'dead = "150 kg/m2"'),),
        (),
    ),
    "it hangs from trusses": ("hanging", (('spacing = "400 mm"', 'spacing = "400 mm"\ntruss = true'),), ()),
    "it is screwed to both leaves": (
        "bridge",
        (('by = "gasket"', 'by = "screws"'), (', deflection = "10 mm"', "")),
        (),
    ),
    "one exhaust fan beside an open flue": ("safety", (HEATER, (FRESH, "")), (HEATER,)),
    "fresh air from the garage": (
        "safety",
        (
            ("[space.outside]", '[space.garage]\nis = "room"\nuse = "garage"\n[space.outside]'),
            ('[run.fresh]\nfrom = "outside"', '[run.fresh]\nfrom = "garage"'),
            ('{ is = "open end", at = ["4 m", "0 m", "3 m"] }, ', ""),
        ),
        (),
    ),
    "a damper behind the grille": ("safety", (('{ is = "grille" }', '{ is = "grille", damper = true }'),), ()),
    "flexible duct through a fire-rated wall": ("safety", (RATED, SOFT), (RATED,)),
    "foam in the air path": ("safety", (('burning = "rated"', 'burning = "burns"'),), ()),
    "it takes in what it threw out": ("safety", (('["4 m", "0 m", "3 m"]', '["1 m", "0 m", "3 m"]'),), ()),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_the_mistake_is_found_and_the_mended_project_is_clean(mistake: str) -> None:
    question, edits, mended = MISTAKES[mistake]
    told = missed(assessed(*edits), question)
    assert told, mistake
    assert not missed(assessed(*mended), question)


def test_every_question_of_the_subject_is_among_them() -> None:
    assert {question for question, _, _ in MISTAKES.values()} == {"fit", "lifting", "hanging", "bridge", "safety"}
