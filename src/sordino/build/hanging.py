"""Hangers, isolators and cables, counted for the list; whether they hold is for a licensed engineer to say."""

from __future__ import annotations

from math import ceil

from sordino.build.kit import Kit
from sordino.build.rules import rule

CAUTION = (
    "hangers, isolators and cables are counted so that the list is whole, not sized: what hangs overhead, from what, "
    "and by which fixings is for a licensed engineer to decide"
)


def hangers(kit: Kit) -> int:
    """An even number, at least the fewest, so that none is counted to take more than the rule's load."""
    return max(int(rule("fewest hangers")), 2 * ceil(kit.mass / rule("hanger load") / 2.0))
