"""The whole project file as checked values."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from sordino.elements.box import Box
from sordino.elements.junction import Junction
from sordino.plan.appliance import Appliance
from sordino.plan.building import Building
from sordino.plan.climate import Session
from sordino.plan.hanging import Joists
from sordino.plan.mover import Mover
from sordino.plan.opening import Opening
from sordino.plan.room import Room, Space
from sordino.plan.run import Run
from sordino.plan.shell import Shell
from sordino.plan.site import Site
from sordino.plan.stand import Stand
from sordino.plan.test import Test
from sordino.quantities import Fraction, Statement


class Mode(Statement):
    """One way of running the system. A mover not named runs at full speed; 0 % is off."""

    speeds: dict[str, Fraction] = Field(default_factory=dict, description="speed of each mover")
    filters: Literal["clean", "dirty"] = Field(
        default="clean", description="what the noise of this mode is worked out with"
    )


class Plan(Statement):
    """A project: rooms, spaces, shells, movers, boxes, junctions, runs and modes by name."""

    title: str = "Untitled project"
    units: Literal["metric", "inch"] = "metric"
    site: Site = Site()
    room: dict[str, Room] = Field(min_length=1)
    space: dict[str, Space] = Field(default_factory=dict)
    shell: dict[str, Shell] = Field(default_factory=dict)
    mover: dict[str, Mover] = Field(default_factory=dict)
    box: dict[str, Box] = Field(default_factory=dict)
    junction: dict[str, Junction] = Field(default_factory=dict)
    run: dict[str, Run] = Field(default_factory=dict)
    stand: dict[str, Stand] = Field(default_factory=dict, description="where boxes and movers stand, by their names")
    opening: dict[str, Opening] = Field(default_factory=dict, description="hatches, doors and stairs on the way in")
    joists: dict[str, Joists] = Field(default_factory=dict, description="what things hang from")
    appliance: dict[str, Appliance] = Field(default_factory=dict, description="what burns fuel near the project")
    session: Session = Session()
    mode: dict[str, Mode] = Field(default_factory=lambda: {"normal": Mode()}, min_length=1)
    test: dict[str, Test] = Field(default_factory=dict, description="what was measured, and how")
    build: Building = Building()
    variant: dict[str, dict[str, Any]] = Field(default_factory=dict, description="named overlays: only what differs")

    def place_name(self, key: str) -> str:
        """What people call a room, space or mover."""
        thing = self.room.get(key) or self.space.get(key) or self.mover.get(key)
        return (thing.name if thing is not None else None) or key.replace("-", " ").capitalize()

    def spoken(self, key: str) -> str:
        """The same within a sentence: a common name with its article, one of its own as it stands."""
        name = self.place_name(key)
        proper = any(sign.isdigit() for sign in name) or any(sign.isupper() for sign in name[1:])
        return name if proper else f"the {name.lower().removeprefix('the ')}"
