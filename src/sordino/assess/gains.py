"""What people, gear and lights give off in a room."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.physics.climate import moist, people
from sordino.plan.room import Room

RADIANT = 0.4
"""Share of the heat of gear and lights that meets surfaces first (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gains:
    """What is given off in a room: sensible and latent heat W, of the sensible what meets surfaces first, CO2 m3/s."""

    people: float
    gear: float
    lights: float
    latent: float
    radiant: float
    co2: float

    @property
    def sensible(self) -> float:
        """W."""
        return self.people + self.gear + self.lights

    @property
    def water(self) -> float:
        """kg/s."""
        return self.latent / moist.EVAPORATION


def room_gains(room: Room, pressure: float = 101_325.0) -> Gains:
    """All people, gear and lights of a room at once."""
    there = [(each.count, people.person(each.activity)) for each in room.people]
    sensible = sum(count * one.sensible for count, one in there)
    radiant = sum(count * one.sensible * one.radiant for count, one in there)
    held = room.comfort.temperature
    return Gains(
        people=sensible,
        gear=room.gear,
        lights=room.lights,
        latent=sum(count * one.latent for count, one in there),
        radiant=radiant + RADIANT * (room.gear + room.lights),
        co2=sum(count * people.co2_rate(one.met, held, pressure) for count, one in there),
    )
