"""Variants: what differs, laid over the project."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sordino.plan.overlay import overlaid

BASE: dict[str, Any] = {
    "title": "base",
    "box": {"first": {"width": 1}, "second": {"width": 2}},
    "run": {"cool": {"parts": [{"is": "flex", "name": "soft", "pull": 1}, {"is": "bend"}, {"is": "open"}]}},
}


def laid(change: dict[str, Any]) -> dict[str, Any]:
    """The base with a change laid over it."""
    return overlaid(BASE, change).data


def changed(**parts: Any) -> list[dict[str, Any]]:
    """The parts of the run after a change of some of them."""
    return laid({"run": {"cool": {"parts": parts}}})["run"]["cool"]["parts"]


def test_tables_merge_and_values_replace() -> None:
    found = laid({"title": "other", "box": {"first": {"height": 3}}})
    assert found["title"] == "other"
    assert found["box"] == {"first": {"width": 1, "height": 3}, "second": {"width": 2}}


def test_a_list_replaces_a_list() -> None:
    parts = [{"is": "open"}]
    assert laid({"run": {"cool": {"parts": parts}}})["run"]["cool"]["parts"] == parts


def test_a_part_is_changed_by_name_or_number() -> None:
    assert changed(soft={"pull": 2})[0] == {"is": "flex", "name": "soft", "pull": 2}
    assert changed(**{"2": {"radius": 5}})[1] == {"is": "bend", "radius": 5}


def test_a_part_of_another_kind_replaces_and_keeps_the_name() -> None:
    assert changed(soft={"is": "rigid"})[0] == {"is": "rigid", "name": "soft"}


def test_false_leaves_out_a_part_or_a_table_but_sets_a_plain_key() -> None:
    assert changed(**{"2": False}) == [BASE["run"]["cool"]["parts"][0], {"is": "open"}]
    assert laid({"box": {"first": False}})["box"] == {"second": {"width": 2}}
    assert laid({"title": False})["title"] is False


def test_where_things_were_written() -> None:
    out = overlaid(BASE, {"run": {"cool": {"parts": {"soft": False, "3": {"flange": 1}}}}})
    assert out.data["run"]["cool"]["parts"] == [{"is": "bend"}, {"is": "open", "flange": 1}]
    assert out.source(("run", "cool", "parts", 1, "flange")) == ("run", "cool", "parts", "3", "flange")
    assert out.source(("run", "cool", "parts", 1, "is")) is None
    assert out.base(("run", "cool", "parts", 1, "is")) == ("run", "cool", "parts", 2, "is")


def test_a_part_that_is_not_there_is_named() -> None:
    out = overlaid(BASE, {"run": {"cool": {"parts": {"sofft": {"pull": 2}}}}})
    assert out.strays == [
        (
            ("run", "cool", "parts", "sofft"),
            "there is no part 'sofft' to change",
            "did you mean soft? names here: soft; numbers: 1 to 3",
        )
    ]


trees = st.recursive(
    st.booleans() | st.integers(0, 3),
    lambda inner: (
        st.dictionaries(st.sampled_from(["1", "a", "is", "name"]), inner, max_size=3) | st.lists(inner, max_size=3)
    ),
    max_leaves=8,
)
tables = st.dictionaries(st.sampled_from(["a", "b"]), trees, max_size=2)


@given(tables, tables)
def test_neither_side_is_altered_and_no_change_changes_nothing(base: dict[str, Any], change: dict[str, Any]) -> None:
    before = repr((base, change))
    overlaid(base, change)
    assert repr((base, change)) == before
    assert overlaid(base, {}).data == base
