"""Variants side by side: the figures of each, and what the runs that differ take away per band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sordino.assess.assessment import Assessment, assess
from sordino.assess.drops import lines
from sordino.assess.loudness import Loudness
from sordino.bands import Bands
from sordino.plan.project import Document, plan_of
from sordino.plan.statement import Plan

AS_WRITTEN = "as written"


@dataclass(frozen=True, kw_only=True, slots=True)
class RunFigures:
    """One run in one mode: flow in m3/s along the run, and the pressure it loses, Pa."""

    flow: float
    drop: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One variant, assessed."""

    name: str
    assessment: Assessment
    runs: dict[tuple[str, str], RunFigures]
    """By run and mode, filters clean."""
    taken: dict[str, Bands]
    """Loss of each run that differs, from its beginning to its end in the direction of sound, dB per octave."""

    def noise(self, place: str, mode: str) -> Loudness | None:
        """What is heard at a place in a mode, if this variant has both."""
        return self.assessment.noise.get((place, mode))


def comparison(source: Document, variants: tuple[str, ...]) -> tuple[Column, ...]:
    """The project as written and some of its variants; raises PlanError if any of them can't be used."""
    return compared({AS_WRITTEN: plan_of(source)} | {name: plan_of(source, name) for name in variants})


def compared(plans: Mapping[str, Plan]) -> tuple[Column, ...]:
    """Plans of one project, by name, beside the first of them."""
    differ = differing(tuple(plans.values()))
    return tuple(_column(name, plan, differ) for name, plan in plans.items())


def differing(plans: tuple[Plan, ...]) -> tuple[str, ...]:
    """Runs that are not built alike in all plans."""
    names = dict.fromkeys(name for plan in plans for name in plan.run)
    return tuple(name for name in names if any(plan.run.get(name) != plans[0].run.get(name) for plan in plans))


def _column(name: str, plan: Plan, differ: tuple[str, ...]) -> Column:
    found = assess(plan)
    return Column(
        name=name,
        assessment=found,
        runs={(run, mode): _figures(found, run, mode) for mode in plan.mode for run in plan.run},
        taken={run: taken for run in differ if (taken := taken_by(found, run)) is not None},
    )


def _figures(found: Assessment, run: str, mode: str) -> RunFigures:
    state = found.state(mode)
    flow = state.flows[run]
    return RunFigures(flow=flow, drop=sum(line.drop for line in lines(found.plan, run, flow, state.filters, found.air)))


def taken_by(found: Assessment, run: str) -> Bands | None:
    """Loss in a run on the way of the fan's sound: its stations, and its open end if the way ends there, dB."""
    for carried in found.acoustics.carriages:
        legs = [leg.run for leg in carried.route.legs]
        if run in legs and carried.route.start.kind == "mover":
            own = [index for index, station in enumerate(carried.stations) if station.run == run]
            drops = carried.drops[own].sum(axis=0)
            return drops + carried.ending if legs[-1] == run else drops
    return None
