"""Heat, fresh air and moisture as plain values for machines."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import Any

from sordino.assess.assessment import Assessment
from sordino.assess.profiles import every_face, place_words
from sordino.assess.session import Session
from sordino.physics.climate import moist
from sordino.search.indoor_help import IndoorRemedies
from sordino.search.indoor_remedy import IndoorRemedy

Record = dict[str, Any]
EVERY = 60.0
"""Seconds between the moments of a session that are written."""


def indoor_record(found: Assessment, modes: tuple[str, ...]) -> Record:
    """All of it, in SI units; times in s, carbon dioxide in ppm, humidity as a share."""
    inside = found.indoors
    return {
        "fresh_air": [asdict(each) for each in inside.fresh if each.mode in modes],
        "heat": [asdict(each) | {"load": each.load} for each in inside.heat if each.mode in modes],
        "humidity_at_end": [asdict(each) for each in inside.humidity if each.mode in modes],
        "choices": [asdict(each) for each in inside.choices if each.mode in modes],
        "units": [
            {"mode": mode, "condition": condition} | asdict(unit)
            for (mode, condition), each in inside.climates.items()
            if mode in modes
            for unit in each.units
        ],
        "sessions": [
            _session(told) for name, told in inside.sessions.items() if name in modes or name not in found.plan.mode
        ],
        "walls": _walls(found, modes),
        "mould": [
            {
                "subject": each.skin.subject,
                "face": each.skin.face,
                "condition": each.condition,
                "at": each.at,
                "mean_humidity": each.humidity,
                "low": each.low,
                "high": each.high,
                "temperature_c": each.temperature,
            }
            for each in inside.mould
        ],
    }


def _session(told: Session) -> Record:
    moments = [EVERY * index for index in range(int(told.length // EVERY) + 1)]
    return {
        "name": told.name,
        "condition": told.condition,
        "times_s": moments,
        "stretches": [{"from_s": at, "mode": mode} for at, mode in told.modes],
        "rooms": [
            {
                "room": room,
                "co2_ppm": [told.co2[told.at(moment), place] for moment in moments],
                "temperature_c": [told.temperature[told.at(moment), place] for moment in moments],
                "humidity": [told.humidity(room, moment) for moment in moments],
            }
            for place, room in enumerate(told.rooms)
        ],
    }


def _walls(found: Assessment, modes: tuple[str, ...]) -> list[Record]:
    return [
        {
            "subject": skin.subject,
            "run": skin.run,
            "part": skin.label,
            "face": skin.face,
            "condition": condition,
            "air": airs.mode,
            "interfaces": [
                {
                    "at": place_words(skin.sheets, index),
                    "temperature_c": warm,
                    "dew_point_c": moist.dew_point(vapour),
                    "humidity": vapour / moist.saturation_pressure(warm),
                }
                for index, (warm, vapour) in enumerate(zip(solved.temperatures, solved.vapours, strict=True))
            ],
        }
        for skin, condition, airs, solved in every_face(found.plan, found.indoors.rooms)
        if airs.mode in ("off", *modes)
    ]


def indoor_remedies_record(told: IndoorRemedies) -> Record:
    """What would help, in the unit of its finding."""
    return {
        "question": told.finding.question,
        "subject": told.finding.subject,
        "mode": told.finding.mode or None,
        "changes_tried": told.tried,
        "best": [_remedy_record(each) for each in told.best],
    }


def _remedy_record(remedy: IndoorRemedy) -> Record:
    """A change as it is told of, without the plan that it gives."""
    return {name: value for name, value in asdict(replace(remedy, plan=None)).items() if name != "plan"}
