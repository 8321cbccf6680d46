"""Variants side by side are the same figures as each assessed alone."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from sordino.assess.assessment import assess
from sordino.assess.drops import lines
from sordino.errors import PlanError
from sordino.plan.project import plan_of
from sordino.plan.reading import Document, parsed
from sordino.search.bypasses import bypasses, least_lead
from sordino.search.comparison import AS_WRITTEN, comparison


@pytest.fixture(scope="module")
def source() -> Document:
    return parsed(files("sordino.examples").joinpath("mill-loft.toml").read_text(encoding="utf-8"), "mill-loft.toml")


def test_each_column_is_that_variant_alone(source: Document) -> None:
    columns = comparison(source, ("rigid-metal",))
    assert [column.name for column in columns] == [AS_WRITTEN, "rigid-metal"]
    alone = assess(plan_of(source, "rigid-metal"))
    for key, heard in alone.noise.items():
        told = columns[1].noise(*key)
        assert told is not None
        assert told.rating.value == pytest.approx(heard.rating.value)
    flow = alone.states["boost", "clean"].flows["cool-practice"]
    figures = columns[1].runs["cool-practice", "boost"]
    assert figures.flow == pytest.approx(flow)
    drop = sum(line.drop for line in lines(alone.plan, "cool-practice", flow, "clean", alone.air))
    assert figures.drop == pytest.approx(drop)


def test_only_the_run_that_differs_has_its_loss_told(source: Document) -> None:
    written, metal = comparison(source, ("rigid-metal",))
    assert list(written.taken) == list(metal.taken) == ["cool-practice"]
    assert np.nanmean(written.taken["cool-practice"]) > np.nanmean(metal.taken["cool-practice"]) + 10.0


def test_an_unknown_variant_is_refused(source: Document) -> None:
    with pytest.raises(PlanError, match="id you mean rigid-metal"):
        comparison(source, ("rigid-metl",))


def test_what_helps_a_pair_of_rooms_is_the_changed_pair(source: Document) -> None:
    found = assess(plan_of(source))
    finding = next(each for each in found.findings if each.question == "isolation" and each.missed)
    told = bypasses(found, finding)
    assert told is not None
    pair = next(p for p in found.isolations if (p.source, p.receiver) == (told.source, told.receiver))
    assert told.before == pytest.approx(least_lead(pair))
    assert told.last is not None
    after = [told.before, *(step.after for step in told.steps)]
    assert after == sorted(after)
    assert [len(step.words) for step in told.steps] == list(range(1, len(told.steps) + 1))
