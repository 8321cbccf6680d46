"""Two rooms of which the first is loud, and what is heard of it."""

from __future__ import annotations

from small import ROOMS
from sordino.assess.assessment import Assessment
from sordino.assess.contribution import Contribution

LOUD = ROOMS.replace('width = "3 m"', 'width = "3 m"\nloudest = [95, 95, 95, 95, 95, 95, 95, 95]')


def heard(assessed: Assessment, place: str, cause: str) -> list[Contribution]:
    """What a place hears of one cause in the normal mode."""
    return [sound for sound in assessed.noise[place, "normal"].heard.contributions if sound.cause == cause]
