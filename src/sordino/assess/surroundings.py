"""The air around rooms, ducts and boxes by condition: as stated, else by kind of place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sordino.physics.climate import moist
from sordino.physics.climate.people import OUTDOORS
from sordino.plan.climate import CONDITIONS, MONTHS, Weather
from sordino.plan.site import Site
from sordino.plan.statement import Plan
from sordino.tables import table

MILDER, DAMP = 5.0, 0.85
"""How much the mean of a winter month exceeds the winter's design day, K, and its humidity (judgement)."""
STALE = 600.0
"""Carbon dioxide of rooms that people use and air, ppm (judgement)."""
ALL = (*CONDITIONS, *MONTHS)
INDOORS = "room"


@dataclass(frozen=True, kw_only=True, slots=True)
class Ambient:
    """Air by temperature in C, humidity ratio in kg/kg and carbon dioxide in ppm, at a pressure in Pa."""

    temperature: float
    ratio: float
    co2: float
    pressure: float

    @property
    def vapour(self) -> float:
        """Vapour pressure, Pa."""
        return moist.vapour_pressure(self.ratio, self.pressure)

    @property
    def humidity(self) -> float:
        """Relative humidity."""
        return moist.relative_humidity(self.temperature, self.ratio, self.pressure)

    @property
    def dew_point(self) -> float:
        """Degrees C."""
        return moist.dew_point(self.vapour)


@lru_cache(maxsize=512)
def outdoors(site: Site, condition: str) -> Ambient:
    """Outdoor air in a condition; the means of months follow from the design days where they are not stated."""
    pressure = moist.standard_pressure(site.altitude)
    stated: Weather | None = getattr(site, condition)
    if stated is not None:
        return _ambient(stated, pressure, OUTDOORS)
    if condition == "winter_month":
        mild = site.winter.model_copy(update={"temperature": site.winter.temperature + MILDER, "humidity": DAMP})
        return _ambient(mild, pressure, OUTDOORS)
    day, night = outdoors(site, "summer_day"), outdoors(site, "humid_night")
    warm = (day.temperature + night.temperature) / 2.0
    return Ambient(temperature=warm, ratio=(day.ratio + night.ratio) / 2.0, co2=OUTDOORS, pressure=pressure)


def _ambient(weather: Weather, pressure: float, co2: float) -> Ambient:
    ratio = moist.humidity_ratio(weather.temperature, weather.humidity, pressure)
    return Ambient(temperature=weather.temperature, ratio=ratio, co2=co2, pressure=pressure)


def around(plan: Plan, place: str, condition: str) -> Ambient:
    """Air of a space in a condition."""
    space = plan.space[place]
    stated = space.air.get(condition)  # type: ignore[call-overload]
    found = by_kind(plan.site, space.kind, condition)
    if stated is not None:
        found = _ambient(stated, found.pressure, found.co2)
    if space.co2 is not None:
        found = Ambient(temperature=found.temperature, ratio=found.ratio, co2=space.co2, pressure=found.pressure)
    return found


@lru_cache(maxsize=512)
def by_kind(site: Site, kind: str, condition: str) -> Ambient:
    """What is taken for a kind of place that states nothing; a window has outdoor air."""
    outside = outdoors(site, condition)
    rows = table("climate/surroundings")
    for row in rows.rows:
        known = dict(zip(rows.columns, row, strict=True))
        if (known["kind"], known["condition"]) == (kind, condition):
            break
    else:
        return outside
    if known["warmer"]:
        warm = outside.temperature + float(known["warmer"])
        return Ambient(temperature=warm, ratio=outside.ratio, co2=OUTDOORS, pressure=outside.pressure)
    warm, humidity = float(known["temperature"]), float(known["humidity"])
    ratio = moist.humidity_ratio(warm, humidity, outside.pressure)
    return Ambient(temperature=warm, ratio=ratio, co2=STALE, pressure=outside.pressure)


def start(plan: Plan, room: str, condition: str) -> Ambient:
    """Air of a room that was aired and left alone: at the temperature held, with the water of rooms in that season."""
    usual = by_kind(plan.site, INDOORS, condition)
    held = plan.room[room].comfort.temperature
    return Ambient(temperature=held, ratio=usual.ratio, co2=OUTDOORS, pressure=usual.pressure)


def weather_known(plan: Plan, condition: str) -> bool:
    """Whether the project file states the weather of a condition, or that from which it follows."""
    named = plan.site.model_fields_set
    from_days = {"summer_month": {"summer_day", "humid_night"}, "winter_month": {"winter"}}
    return condition in named or from_days.get(condition, {condition}) <= named
