"""The solver says nothing on standard output, whatever its C code prints."""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest

from sordino.build.cutting.blanks import EMPTY, Blank, Block, beside, without
from sordino.build.cutting.fullest_free import splits
from sordino.build.cutting.levels import in_strips
from sordino.build.cutting.lines import best_bar
from sordino.build.cutting.solver import least, silenced
from sordino.build.cutting.stock import Kind, complete


def test_c_code_is_silenced_and_heard_again(capfd: pytest.CaptureFixture[str]) -> None:
    """What is written to the descriptor inside is gone; outside it comes through."""
    with silenced():
        os.write(1, b"chatter")
    os.write(1, b"heard")
    assert capfd.readouterr().out == "heard"


def test_least_cost_of_whole_numbers(capfd: pytest.CaptureFixture[str]) -> None:
    """3 x + 2 y of at least 7 at a cost of 2 x + y: y = 4 at a cost of 4."""
    found = least(
        np.array([2.0, 1.0]), np.array([[3.0, 2.0]]), np.array([7.0]), np.array([np.inf]), np.full(2, 9.0), 5.0
    )
    assert found.proven
    assert found.values is not None
    assert found.values.tolist() == [0.0, 4.0]
    assert capfd.readouterr().out == ""


def test_none_where_nothing_holds() -> None:
    """x of at least 5, but at most 2."""
    found = least(np.ones(1), np.ones((1, 1)), np.array([5.0]), np.array([np.inf]), np.full(1, 2.0), 5.0)
    assert found.values is None


def test_strips_of_two_heights() -> None:
    """Four of 5 x 3 and two of 10 x 2 fill 10 x 10: two strips of two, two strips of one."""
    blanks = (Blank(length=5, width=3, count=4), Blank(length=10, width=2, count=2))
    kinds = (Kind(length=10, width=10, count=None, cost=1.0),)
    for way in ("x", "y"):
        found = in_strips(blanks, kinds, 3, way, 5.0)
        assert found is not None
        assert complete(found, blanks)
        assert all(used.block.length <= 10 and used.block.width <= 10 for used in found)
    assert len(in_strips(blanks, kinds, 3, "x", 5.0) or ()) == 1


def test_what_is_too_many_is_taken_out() -> None:
    """Of three alike one stays, and the block shrinks."""
    one = Block(length=4, width=2, blank=0)
    three = beside(beside(one, one, "x"), one, "x")
    left = without(three, {0: 2})
    assert (left.length, left.width, list(left.held)) == (4, 2, [0])
    assert without(one, {0: 1}) == EMPTY


def test_the_best_bar_is_that_of_the_table() -> None:
    """One side only: the counted knapsack equals the exact table of a sheet of width 1, and keeps to its counts."""
    lengths, prices = (31, 37, 44, 59, 73), np.array([3.0, 3.7, 4.3, 6.1, 7.0])
    blanks = tuple(
        Blank(length=length, width=1, count=9, value=float(price))
        for length, price in zip(lengths, prices, strict=True)
    )
    for stock in (150, 200, 213, 240):
        found = best_bar(blanks, prices, 0, stock)
        assert found.value == pytest.approx(splits(blanks, stock, 1).value)
        assert found.used.block.length <= stock
        assert sum(prices[number] for number in found.used.block.held) == pytest.approx(found.value)
    single = tuple(replace(blank, count=1) for blank in blanks)
    assert sorted(best_bar(single, prices, 0, 400).used.block.held) == [0, 1, 2, 3, 4]
