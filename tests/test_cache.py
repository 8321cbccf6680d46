"""The store of slow results: kept by content, never in the way of an answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from sordino.cache import SETTING, kept, key_of, remembered


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(SETTING, str(tmp_path / "store"))
    return tmp_path / "store"


def test_work_is_done_once(place: Path) -> None:
    done: list[int] = []

    def work() -> list[float]:
        done.append(1)
        return [1.5, float("inf")]

    assert [remembered("a", work) for _ in range(3)] == [[1.5, float("inf")]] * 3
    assert len(done) == 1
    assert kept("b") is None


def test_a_key_changes_with_every_part() -> None:
    keys = {key_of("x", 1, [2.0], {"a": 1}), key_of("x", 1, [2.1], {"a": 1}), key_of("x", 1, [2.0], {"a": 2})}
    assert len(keys) == 3
    assert key_of({"a": 1, "b": 2}) == key_of({"b": 2, "a": 1})


def test_a_damaged_store_costs_time_only(place: Path) -> None:
    remembered("a", lambda: 1)
    (place / "results.sqlite").write_bytes(b"not a store" * 100)
    assert remembered("a", lambda: 2) == 2


def test_a_folder_that_can_not_be_made_costs_time_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv(SETTING, str(tmp_path / "file" / "store"))
    assert remembered("a", lambda: 3) == 3


def test_an_empty_setting_keeps_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(SETTING, "")
    assert remembered("a", lambda: 4) == 4
    assert kept("a") is None
