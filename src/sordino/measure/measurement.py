"""One test of a project, from its readings to what they say beside the prediction."""

from __future__ import annotations

from pathlib import Path

from sordino.assess.assessment import Assessment, assess
from sordino.measure.flow import air_flow
from sordino.measure.noise import room_noise
from sordino.measure.result import Measurement
from sordino.measure.ringing import reverberation
from sordino.measure.takes import reader
from sordino.measure.transmission import insertion_loss, level_difference, vent
from sordino.plan.statement import Plan
from sordino.plan.test import AirFlow, Chain, InsertionLoss, LevelDifference, Reverberation, RoomNoise, Vent


def measure(plan: Plan, name: str, folder: Path) -> Measurement:
    """Read a test whose recordings lie in or under a folder; a PlanError says what can't be used.

    The prediction is that of the plan as it stands. What the file states as measured counts in it, but no box's loss
    and no run's flow is held against itself.
    """
    test = plan.test[name]
    if isinstance(test, InsertionLoss):
        return insertion_loss(plan, name, test, reader(test, folder))
    found = assess(plan)
    if isinstance(test, AirFlow):
        return air_flow(found, name, test)
    return _by_ear(found, name, test, folder)


def _by_ear(found: Assessment, name: str, test: Chain, folder: Path) -> Measurement:
    read = reader(test, folder)
    if isinstance(test, LevelDifference):
        return level_difference(found, name, test, read)
    if isinstance(test, Vent):
        return vent(found, name, test, read)
    if isinstance(test, RoomNoise):
        return room_noise(found, name, test, read)
    assert isinstance(test, Reverberation)
    return reverberation(found, name, test, read)
