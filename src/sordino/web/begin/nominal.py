"""What a first plan is made of, in the sizes that are sold where people measure in metres, and where in inches."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.units import System
from sordino.web.project.written import exactly


@dataclass(frozen=True, kw_only=True, slots=True)
class Nominal:
    """Sizes as a project file has them (common practice, no source)."""

    gypsum: str
    board: str
    cavity: str
    fibre: str
    filter: str
    short: str
    middle: str
    long: str
    listener: str
    volumes: tuple[str, str]
    """Of another room, and of a loft or void."""
    linings: tuple[float, float]
    """The thick and the thin one, m."""


NOMINAL: dict[System, Nominal] = {
    "metric": Nominal(
        gypsum="15 mm",
        board="18 mm",
        cavity="150 mm",
        fibre="32 kg/m3",
        filter="50 mm",
        short="0.5 m",
        middle="1.0 m",
        long="1.5 m",
        listener="1.2 m",
        volumes=("30 m3", "40 m3"),
        linings=(0.05, 0.025),
    ),
    "inch": Nominal(
        gypsum="5/8 in",
        board="3/4 in",
        cavity="6 in",
        fibre="2 lb/ft3",
        filter="2 in",
        short="1 ft 8 in",
        middle="3 ft",
        long="5 ft",
        listener="4 ft",
        volumes=("1050 ft3", "1400 ft3"),
        linings=(0.0508, 0.0254),
    ),
}


def flow(value: float, units: System) -> str:
    """A flow given in m3/h, to the whole one."""
    return f"{value:.0f} m³/h" if units == "metric" else f"{value / 1.699:.0f} cfm"


def pressure(value: float, units: System) -> str:
    """A pressure, Pa."""
    return f"{value:.0f} Pa" if units == "metric" else exactly(value, "pressure", units, figures=3)


def area(value: float, units: System) -> str:
    """An area, m2."""
    return f"{value:.1f} m2" if units == "metric" else exactly(value, "area", units, figures=3)


def opening(width: float, height: float, units: System) -> str:
    """A face by its sides in m, to the centimetre or the inch."""
    if units == "metric":
        return f"{10 * round(width * 100)} x {10 * round(height * 100)} mm"
    return f"{max(round(width / 0.0254), 1)} x {max(round(height / 0.0254), 1)} in"
