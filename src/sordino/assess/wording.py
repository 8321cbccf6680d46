"""Plain words for findings: which sound, which way, in which band."""

from __future__ import annotations

from sordino.assess.contribution import Contribution
from sordino.assess.loudness import Loudness
from sordino.plan.statement import Plan
from sordino.units import show

VERDICT = {
    "met": "met",
    "likely met": "likely met",
    "likely missed": "likely misses",
    "missed": "misses",
}
NO_AIR = 5e-5
"""Flow below which nothing is said to move, m3/s."""


def flow_words(plan: Plan, value: float) -> str:
    """A flow without its sign; less than a twentieth of a litre a second is none."""
    return show(abs(value), "flow", plan.units) if abs(value) >= NO_AIR else "no air"


def degrees(plan: Plan, value: float) -> str:
    """A temperature to a tenth of a degree C or a whole one F, near zero too."""
    return f"{value:z.1f} °C" if plan.units == "metric" else f"{1.8 * value + 32.0:z.0f} °F"


def sound_words(plan: Plan, sound: Contribution) -> str:
    """A sound and its way, as `fan noise of the Cooler through return-trunk + return-reading`."""
    origin = plan.spoken(sound.origin)
    if sound.cause == "fan":
        kind = "noise" if "fan" in origin.lower().split() else "fan noise"
        return f"{kind} of {origin} through {sound.via}"
    if sound.cause == "air":
        return f"air noise of the {sound.station} in {sound.via}"
    if sound.cause == "casing":
        return f"the casing of {origin}"
    if sound.cause == "breakout":
        return f"sound through the wall of {sound.station} in {sound.via}"
    if sound.cause == "break-in":
        return f"noise of {origin} breaking into the {sound.station} of {sound.via}"
    if sound.cause == "outdoors":
        return f"noise of {origin} through {sound.via}"
    if sound.cause == "background":
        return f"noise of {origin} through {sound.via}" if sound.via else "the stated background"
    if sound.cause == "through room":
        return f"ventilation noise of {origin} through {sound.via}"
    return f"the loudest sound of {origin} through {sound.via}"


def rating_words(heard: Loudness) -> str:
    """The figure with its range, as `NC 19 (13 to 25)`; the ends of a scale read `under` and `over`."""
    rating = heard.rating
    if heard.scale == "dBA":
        return f"{rating.value:.0f} dBA ({rating.low:.0f} to {rating.high:.0f})"
    if heard.bound == "below":
        most = f" (at most {rating.high:.0f})" if rating.high >= rating.value + 0.5 else ""
        return f"{heard.scale} under {rating.value:.0f}{most}"
    low = f"under {rating.low:.0f}" if heard.scale == "NC" and rating.low <= 15.0 else f"{rating.low:.0f}"
    if heard.bound == "above":
        least = f" (at least {low})" if 15.0 < rating.low <= rating.value - 0.5 else ""
        return f"{heard.scale} over {rating.value:.0f}{least}"
    return f"{heard.scale} {rating.value:.0f} ({low} to {rating.high:.0f})"
