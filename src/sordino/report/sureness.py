"""How sure the answer is: each room's range, the cause that widens it most, and what would narrow it."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.loudness import Loudness
from sordino.report import layout
from sordino.report.phrases import heading_of

NARROWS = {
    "sound power of": "sound power per octave from the maker, measured in a duct, for the speed that is used",
    "how": "nothing on paper: a fan's acoustic impedance is rarely known; measure once it runs",
    "sound field of": "listening position and room finishes, measured in the finished room",
    "noise of": "a measurement of the noise around the ducts",
    "background of": "a measurement of the room with all air off",
    "sound passing through": "a measurement with the mover off",
    "lined box estimate": "a measured or computed loss of the box itself",
    "default ceiling": "careful sealing, and a measurement of what goes round the box",
    "flexible duct": "the maker's insertion loss of that very duct, and how straight it hangs",
    "end reflection": "a bare opening instead of a grille, or a measurement",
    "grille noise": "the maker's sound power at this flow",
    "silencer": "a laboratory report with flow",
    "air flow": "measured flows",
    "double leaf loss": "a laboratory report of that build-up",
    "panel loss": "a laboratory report of that build-up",
    "shell loss given": "a measurement on site, with its flanking paths",
    "loudest source": "a measurement of that source",
}
"""What would narrow a range, by the beginning of its cause."""


def sureness(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """One row for each receiver and mode whose range has a cause."""
    told = [
        sentence
        for (_, mode), heard in found.noise.items()
        if mode in modes and heard.rating.widest
        for sentence in layout.hanging("-", _sentence(found, heard), 2)
    ]
    return [*layout.heading("How sure, and what would narrow it most"), *told] if told else []


def _sentence(found: Assessment, heard: Loudness) -> str:
    rating = heard.rating
    reach = f"-{rating.value - rating.low:.0f} +{rating.high - rating.value:.0f}"
    name = heading_of(found, heard)
    return f"{name} ({reach}): widest because of {_plain(rating.widest)}. To narrow it: {narrowing(rating.widest)}."


def narrowing(cause: str) -> str:
    """What would narrow a range that this cause widens."""
    matching = (cure for beginning, cure in NARROWS.items() if cause.startswith(beginning))
    return next(matching, "a measurement, or the maker's data, of that very part")


def _plain(cause: str) -> str:
    """A cause in words: a method by its part, anything else as it is called."""
    if cause in METHODS:
        return f"the method for {cause}"
    return cause if cause.startswith("how ") else f"the {cause}"


METHODS = {
    "lined rectangular duct",
    "lined round duct",
    "unlined duct",
    "flexible duct",
    "bend",
    "end reflection",
    "end reflection with a grille",
    "branch split",
    "plenum",
    "breakout",
    "break-in",
    "panel loss",
    "panel loss without a published spectrum",
    "double leaf loss",
}
"""Causes that are rows of the scatter table by their part alone."""
