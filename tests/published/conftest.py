"""The `check` fixture and the table that `make evidence` prints; rows and marks are in tests/evidence.py."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from evidence import MARKS, ROWS, Check, Row


@pytest.fixture
def check(request: pytest.FixtureRequest) -> Check:
    """Record and assert one published value, or the worst of several: `check("NC-20 at 63 Hz", 50, got, …)`.

    Arrays make one row, that of their worst deviation. Give exactly one of `within` (same unit as the value)
    and `relative` (a fraction).
    """
    subject = str(request.node.path.parent.name)

    def record(
        quantity: str,
        published: Any,
        computed: Any,
        *,
        source: str,
        mark: str,
        within: float | None = None,
        relative: float | None = None,
    ) -> None:
        assert mark in MARKS, f"unknown mark {mark!r}"
        assert (within is None) != (relative is None), "give one tolerance"
        want, got = np.atleast_1d(np.asarray(published, float)), np.atleast_1d(np.asarray(computed, float))
        assert want.shape == got.shape, f"{quantity}: shapes {want.shape} and {got.shape}"
        assert np.isfinite(want).all(), f"{quantity}: a published value is missing"
        gap = np.abs(got - want) / (np.abs(want) if relative is not None else 1.0)
        worst = int(np.argmax(np.where(np.isnan(gap), np.inf, gap)))
        row = Row(
            subject=subject,
            source=source,
            quantity=quantity if want.size == 1 else f"{quantity}, worst of {want.size}",
            published=float(want.flat[worst]),
            computed=float(got.flat[worst]),
            tolerance=float(relative if relative is not None else within or 0.0),
            relative=relative is not None,
            mark=mark,
        )
        ROWS.append(row)
        assert row.within, str(row)

    return record


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--evidence", action="store_true", help="print every published check as one table")


@pytest.hookimpl(wrapper=True, trylast=True)
def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> Iterator[None]:
    yield
    if not config.getoption("--evidence"):
        return
    say = terminalreporter.write_line
    say(
        f"{'subject':<16} {'quantity':<66} {'published':>11} {'computed':>11} {'deviation':>10} "
        f"{'allowed':>8} {'':<3} {'mark':<11} source"
    )
    for row in sorted(ROWS, key=lambda row: (row.subject, row.source)):
        say(str(row))
    good, recalled = sum(row.within for row in ROWS), sum(row.mark == "memory" for row in ROWS)
    say(f"evidence: {len(ROWS)} checks, {good} within tolerance, {recalled} from memory")
