"""Signs that can't be seen are refused with their line, wherever they stand; all others are let through."""

from __future__ import annotations

import pytest

from sordino.errors import PlanError
from sordino.plan.reading import parsed

UNSEEN = ["\\u0007", "\\u001b[31m", "\\n", "\\u202e", "\u202e", "\u2066", "\u200f", "\\u0085", "\u2028"]


@pytest.mark.parametrize("sign", UNSEEN)
def test_texts_and_names_that_would_garble_a_report_are_refused(sign: str) -> None:
    text = f'title = "a"\n[room.booth]\nname = "Boo{sign}th"\n[mode."qui{sign}et"]\n[[run.x.parts]]\nname = "{sign}"\n'
    with pytest.raises(PlanError) as refusal:
        parsed(text, "s.toml")
    told = [str(fault) for fault in refusal.value.faults]
    assert told[0] == (
        "s.toml:3: room.booth.name: this text holds a sign that can't be seen. Type the text again, on one line."
    )
    assert told[1].startswith("s.toml:4: mode.'qui")
    assert told[1].endswith("et': this name holds a sign that can't be seen. Type the name again.")
    assert told[2].startswith("s.toml:6: run.x.parts.1.name: this text")
    assert all(line.isprintable() for line in told)


@pytest.mark.parametrize("name", ["Büro", "書斎", "غرفة", "Röhre Ø 200\u202fmm", "tab\\there", "👩\u200d🎤", "e\u0301"])
def test_every_way_of_writing_is_let_through(name: str) -> None:
    assert parsed(f'[room.booth]\nname = "{name}"\n', "s.toml").data["room"]
