"""The whole assessment as plain values for machines: SI units named in the keys, NaN as null."""

from __future__ import annotations

import json
import math
from dataclasses import asdict
from typing import Any

import numpy as np

from sordino import __version__
from sordino.assess.airflow import AirState
from sordino.assess.assessment import Assessment
from sordino.assess.balance import Branch
from sordino.assess.contribution import Contribution, Row
from sordino.assess.drops import lines
from sordino.assess.finding import Finding
from sordino.assess.isolation import Isolation
from sordino.assess.loudness import Loudness
from sordino.assess.pressure import RoomPressure
from sordino.assess.speeds import Speed
from sordino.assess.spread import Spread
from sordino.assess.wording import sound_words
from sordino.bands import OCTAVES, Bands
from sordino.plan.statement import Plan
from sordino.quantities import Target
from sordino.report.indoor_record import indoor_record, indoor_remedies_record
from sordino.report.ledger import plane_reach
from sordino.report.phrases import CAUTION, LEGEND
from sordino.report.spectra import target_curve
from sordino.report.structure_record import gains_record, structure_record
from sordino.search.bypasses import Bypasses
from sordino.search.help import Help
from sordino.search.remedies import Remedies

Record = dict[str, Any]


def text(record: Record) -> str:
    """Strict JSON: what is not assessed, or endless, is null."""
    return json.dumps(_strict(record), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _strict(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(key): _strict(inner) for key, inner in value.items()}
    if isinstance(value, np.ndarray):
        return _strict(value.tolist())
    if isinstance(value, list | tuple):
        return [_strict(inner) for inner in value]
    if isinstance(value, float | np.floating):
        return round(float(value), 9) if math.isfinite(value) else None
    return value.item() if isinstance(value, np.generic) else value


def record(found: Assessment, modes: tuple[str, ...], helps: Help, variant: str | None = None) -> Record:
    """Everything that was worked out."""
    plan = found.plan
    return {
        "program": {"name": "sordino", "version": __version__},
        "title": plan.title,
        "variant": variant,
        "display_units": plan.units,
        "octaves_hz": OCTAVES,
        "air": {"density_kg_m3": found.air.density, "sound_speed_m_s": found.air.sound_speed},
        "findings": [finding_record(each) for each in found.findings if each.mode in ("", *modes)],
        "remedies": [remedies_record(each) for each in helps.noise],
        "gains": [gains_record(each) for each in helps.gains],
        "isolation_remedies": [bypasses_record(each) for _, each in helps.isolation],
        "noise": [_heard(found, heard) for (_, mode), heard in found.noise.items() if mode in modes],
        "sound_from_other_rooms": [_heard(found, heard) for heard in found.crosstalk.values()],
        "isolation": [_pair(pair) for pair in found.isolations],
        "air_states": [_state(found, state) for (mode, _), state in found.states.items() if mode in modes],
        "speeds": [_speed(mode, each) for mode in modes for each in found.speeds[mode]],
        "room_pressures": [_room_pressure(mode, each) for mode in modes for each in found.pressures[mode]],
        "structure": structure_record(found.structure),
        "balance": [_branch(each) for each in found.branches],
        "indoors": indoor_record(found, modes),
        "indoor_remedies": [indoor_remedies_record(each) for each in helps.indoors],
        "legend": LEGEND,
        "caution": CAUTION,
    }


def finding_record(finding: Finding) -> Record:
    """A finding; value, low, high and limit are in its `unit`."""
    return asdict(finding) | {"missed": finding.missed}


def remedies_record(helps: Remedies) -> Record:
    """What would help, with figures on the target's scale and flows in m3/s."""
    return {
        "place": helps.place,
        "mode": helps.mode,
        "changes_tried": helps.tried,
        "target_reached": helps.reaches,
        "best": [
            {
                "change": each.words,
                "figure_before": each.before,
                "figure_after": each.after,
                "within_target": each.meets,
                "run": each.run or None,
                "flow_before_m3_s": each.flow_before if each.run else None,
                "flow_after_m3_s": each.flow_after if each.run else None,
            }
            for each in helps.told
        ],
    }


def bypasses_record(found: Bypasses) -> Record:
    """What would help the loss between two rooms: how much more the ducts then lose than the shell."""
    return {
        "source": found.source,
        "receiver": found.receiver,
        "changes_tried": found.tried,
        "ducts_minus_shell_before_db": found.before,
        "steps": [{"changes": each.words, "ducts_minus_shell_after_db": each.after} for each in found.steps],
    }


def loudness_record(heard: Loudness) -> Record:
    """Figure, range and spectrum of one receiver."""
    return {
        "place": heard.heard.place,
        "mode": heard.heard.mode or None,
        "scale": heard.scale,
        "figure": heard.rating.value,
        "figure_low": heard.rating.low,
        "figure_high": heard.rating.high,
        "figure_is_bound": heard.bound or None,
        "widest_cause": heard.rating.widest or None,
        "governing_band_hz": OCTAVES[heard.band],
        "levels_db": heard.levels,
        "levels_low_db": heard.levels - heard.below,
        "levels_high_db": heard.levels + heard.above,
        "target": _target(heard.target),
        "target_curve_db": target_curve(heard.target),
    }


def _target(target: Target | None) -> Record | None:
    return None if target is None else {"scale": target.scale, "value": target.value}


def _heard(found: Assessment, heard: Loudness) -> Record:
    paths = [_path(found, found.plan, sound) for sound in heard.heard.contributions]
    return loudness_record(heard) | {"governing": sound_words(found.plan, heard.governing), "paths": paths}


def _path(found: Assessment, plan: Plan, sound: Contribution) -> Record:
    return {
        "words": sound_words(plan, sound),
        "cause": sound.cause,
        "origin": sound.origin,
        "via": sound.via or None,
        "station": sound.station or None,
        "levels_db": sound.levels,
        "half_widths_db": _spread(sound.spread),
        "plane_waves_up_to_hz": plane_reach(found, sound) if sound.rows else None,
        "schedule": [_row(row) for row in sound.rows],
    }


def _spread(spread: Spread) -> dict[str, Bands]:
    return dict(sorted(spread.items()))


def _row(row: Row) -> Record:
    return {
        "station": row.station,
        "attenuation_db": row.attenuation,
        "own_noise_db": row.own,
        "level_after_db": row.level,
        "note": row.note or None,
    }


def _pair(pair: Isolation) -> Record:
    return {
        "source": pair.source,
        "receiver": pair.receiver,
        "by_shell_db": pair.shell,
        "by_ducts_db": pair.ducts,
        "together_db": pair.together,
        "ducts_minus_shell_db": pair.lead,
        "duct_ways": [{"via": via, "loss_db": loss} for via, loss in pair.ways],
    }


def _state(found: Assessment, state: AirState) -> Record:
    return {
        "mode": state.mode,
        "filters": state.filters,
        "flow_half_width_share": state.flow_spread,
        "runs": [_run(found, state, name) for name in found.plan.run],
        "node_pressures_pa": state.pressures,
        "streams": [
            {
                "mover": stream.mover,
                "stream": stream.index,
                "speed_share": stream.speed,
                "flow_m3_s": stream.flow,
                "pressure_pa": stream.pressure,
                "free_flow_m3_s": stream.free_flow,
                "curve_extended": stream.extended,
                "crossings": [{"flow_m3_s": point.flow, "stable": point.stable} for point in stream.crossings],
            }
            for stream in state.streams
        ],
    }


def _run(found: Assessment, state: AirState, name: str) -> Record:
    run, flow = found.plan.run[name], state.flows[name]
    ledger = lines(found.plan, name, flow, state.filters, found.air)
    return {
        "run": name,
        "from": run.start,
        "to": run.end,
        "flow_m3_s": flow,
        "wanted_m3_s": run.wanted,
        "pressure_loss_pa": sum(line.drop for line in ledger),
        "ledger": [{"line": line.label, "drop_pa": line.drop} for line in ledger if line.label],
    }


def _speed(mode: str, speed: Speed) -> Record:
    return {
        "mode": mode,
        "run": speed.run,
        "station": speed.station,
        "where": speed.place,
        "speed_m_s": speed.velocity,
        "limit_m_s": speed.limit,
    }


def _room_pressure(mode: str, each: RoomPressure) -> Record:
    return {
        "mode": mode,
        "room": each.room,
        "over_outdoors_pa": each.pressure,
        "door_force_n": each.force,
        "door_force_limit_n": each.limit,
    }


def _branch(each: Branch) -> Record:
    return {
        "junction": each.junction,
        "run": each.run,
        "wanted_m3_s": each.flow,
        "drop_pa": each.drop,
        "surplus_pa": each.surplus,
        "blade_angle_deg": each.angle,
    }
