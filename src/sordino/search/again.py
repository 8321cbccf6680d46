"""The acoustics of a changed plan, with all that the change does not reach taken over from before."""

from __future__ import annotations

from sordino.assess.acoustics import Acoustics, acoustics
from sordino.assess.boxes import unsolved, with_fields
from sordino.plan.statement import Plan


def acoustics_again(before: Acoustics, plan: Plan) -> Acoustics:
    """The same as working out `plan` anew; boxes have sound fields if they had them, so that like is beside like."""
    return acoustics(plan if unsolved(before.plan) else with_fields(plan, before.air), before.air, before)
