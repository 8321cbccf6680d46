"""One box as plain values for machines: SI units named in the keys."""

from __future__ import annotations

from sordino import __version__
from sordino.assess.box_answer import BoxAnswer
from sordino.assess.box_faces import FaceShare
from sordino.assess.box_loss import Dip, LossBands
from sordino.assess.box_pair import BoxPair
from sordino.assess.weight import weight_of
from sordino.bands import OCTAVES
from sordino.plan.statement import Plan
from sordino.report.phrases import CAUTION
from sordino.report.record import Record
from sordino.search.box_compared import BoxChange


def box_record(
    plan: Plan,
    answer: BoxAnswer,
    changes: tuple[BoxChange, ...] | None,
    variant: str | None = None,
    departures: tuple[BoxChange, ...] = (),
) -> Record:
    """Everything that was worked out of one box; lists by octave have nine values from 31.5 Hz."""
    box, held = answer.built.build, answer.validity
    return {
        "program": {"name": "sordino", "version": __version__},
        "title": plan.title,
        "variant": variant,
        "display_units": plan.units,
        "box": answer.name,
        "run": answer.standing.run,
        "within": answer.standing.within or None,
        "family": box.family,
        "inside_m": {"length": box.length, "width": box.width, "height": box.height},
        "octaves_hz": OCTAVES,
        "weakest_octave_hz": OCTAVES[answer.weakest],
        "counted_db": answer.counted,
        "counted_low_db": answer.counted_low,
        "counted_high_db": answer.counted_high,
        "passage_octaves": _loss(answer.octaves),
        "passage_thirds": _loss(answer.thirds),
        "handbook_octaves_db": answer.handbook,
        "round_it": {
            "default_db": answer.default_ceiling,
            "casing_db": answer.casing,
            "together_db": answer.ceiling,
            "rules_at_hz": [OCTAVES[band] for band in answer.ruled],
            "most_comes_by": list(answer.rulers),
        },
        "rigid_dividers_change_db": answer.dividers,
        "dips": [_dip(dip) for dip in answer.dips],
        "faces": [_face(face) for face in answer.faces],
        "air": {
            "mode": answer.through.mode,
            "flow_m3_s": answer.through.flow,
            "pressure_loss_pa": answer.through.loss,
            "ledger": [{"line": label, "drop_pa": drop} for label, drop in answer.through.lines.items()],
            "narrowest": answer.through.narrowest,
            "free_area_m2": answer.through.free_area,
            "velocity_m_s": answer.through.velocity,
            "own_noise_db": answer.through.noise,
        },
        "mass_kg": weight_of(answer.built).made_of | {"whole": weight_of(answer.built).whole},
        "validity": {
            "field_limit_hz": held.field_limit,
            "fibre_from_hz": held.fibre_low,
            "fibre_to_hz": held.fibre_high,
            "flow_resistivity_pa_s_m2": held.resistivity,
            "cell_m": held.cell,
            "companion_cell_m": held.companion_cell,
            "unknowns": held.unknowns,
        },
        "in_series": [_pair(pair) for pair in answer.pairs],
        "changes": None if changes is None else [_change(change) for change in changes],
        "departures": [_change(change) for change in departures],
        "notes": answer.notes,
        "caution": CAUTION,
    }


def _loss(found: LossBands) -> Record:
    return {
        "centres_hz": found.centres,
        "loss_db": found.loss,
        "low_db": found.low,
        "high_db": found.high,
        "low_with": [case or None for case in found.lowest_case],
        "numerical_error_db": found.error,
        "certain": found.certain,
    }


def _pair(pair: BoxPair) -> Record:
    return {
        "first": pair.first,
        "second": pair.second,
        "run": pair.run,
        "apart_m": pair.apart,
        "interaction_to_hz": pair.limit,
        "first_alone_db": pair.alone[0],
        "second_alone_db": pair.alone[1],
        "between_db": pair.between,
        "plain_sum_db": pair.plain_sum,
        "together_db": pair.together,
        "counted_db": pair.counted,
    }


def _dip(dip: Dip) -> Record:
    return {
        "frequency_hz": dip.frequency,
        "loss_db": dip.loss,
        "depth_db": dip.depth,
        "reason": dip.reason or None,
        "half_wavelengths": dip.halves or None,
        "length_m": dip.length,
        "shifted_by_dividers": dip.shifted,
    }


def _face(face: FaceShare) -> Record:
    return {
        "face": face.face,
        "area_m2": face.area,
        "surface_mass_kg_m2": face.mass,
        "inside_db": face.inside,
        "radiated_db": face.radiated,
        "share": face.share,
        "under_the_whole_db": face.margin,
        "into": face.into or None,
        "half_as_thick_lets_out_more_db": face.if_half,
        "twice_as_thick_lets_out_less_db": face.if_double,
        "verdict": face.verdict,
    }


def _change(change: BoxChange) -> Record:
    fits = change.counted is not None
    return {
        "change": change.words,
        "fits": fits,
        "why_not": change.clash or None,
        "counted_change_db": change.counted,
        "passage_change_db": change.loss,
        "pressure_change_pa": change.pressure,
        "mass_change_kg": change.mass,
        "path_change_m": change.path,
        "outer_change_m": dict(zip(("length", "width", "height"), change.outside, strict=True)) if fits else None,
    }
