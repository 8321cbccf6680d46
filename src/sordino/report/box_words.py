"""Plain words for one box: what it takes, where it is weak and why, what goes round it."""

from __future__ import annotations

import numpy as np

from sordino.assess.box_answer import BoxAnswer
from sordino.assess.box_faces import FaceShare
from sordino.assess.box_loss import DIVIDERS, Dip, counted
from sordino.assess.box_pair import BoxPair
from sordino.assess.weight import PLANNING, mass, weight_of
from sordino.bands import CENTRES, name
from sordino.names import listed
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.report.phrases import flow, pressure, velocity
from sordino.search.box_compared import BoxChange
from sordino.units import show

SPOKEN = range(1, 8)
"""Octaves told in the answer, 63 Hz to 4 kHz."""
HALVES = {1: "half a wavelength fits", 2: "one wavelength fits", 3: "one and a half wavelengths fit"}
LONG_WAVE = 2.0
"""A wave this many times as long as the box slips through it as through a short tube."""
JUDGED = slice(1, 6)
"""Octaves in which casing and passage are held against each other, 63 Hz to 1 kHz."""
LEAD = 10.0
"""A way that loses this much more adds under half a decibel."""
WORTH = 0.5
"""Gains under this are not told, dB."""


def takes(answer: BoxAnswer) -> str:
    """What the box counts for, band by band."""
    figures = [
        f"{layout.whole(answer.counted[band])} dB at {name(band)} "
        f"({layout.whole(answer.counted_low[band])} to {layout.whole(answer.counted_high[band])})"
        for band in SPOKEN
    ]
    return f"Box {answer.name} takes {listed(figures)}."


def weakness(answer: BoxAnswer, plan: Plan) -> str:
    """The weakest band with its reason."""
    return f"The weakest band is {name(answer.weakest)}, because {_because(answer, plan)}."


def _because(answer: BoxAnswer, plan: Plan) -> str:
    band, box = answer.weakest, answer.built.build
    dip = next((dip for dip in answer.dips if abs(np.log2(dip.frequency / CENTRES[band])) <= 0.5), None)
    if band in answer.ruled:
        return f"more sound goes round the passage than through it: {_rounds(answer, band)}"
    if dip is not None:
        return f"{dip_words(dip, plan)}: it {dip_depth(dip)}"
    wave = answer.air.sound_speed / float(CENTRES[band])
    if wave > LONG_WAVE * box.length:
        seen = f"{show(wave, 'length', plan.units)} against {show(box.length, 'length', plan.units)} of box inside"
        return f"the wave there is long, {seen}, and fibre takes little of a wave so much longer than it is deep"
    if CENTRES[band] > answer.validity.field_limit and not answer.built.layout.turns:
        return "such short waves beam straight down the passage and miss the fibre"
    if CENTRES[band] > answer.validity.field_limit:
        return "above the sound field's reach the handbook estimate of lining and turns falls off"
    return "no single feature stands out there: more length, fibre or turns would each add some"


def _rounds(answer: BoxAnswer, band: int) -> str:
    return _OUT_AND_IN if answer.casing[band] < answer.default_ceiling[band] else _LEAKS


_OUT_AND_IN = "out through the casing and back in again"
_LEAKS = "small leaks and whatever joins its two ends, taken as the stated default"
_CURES = {_LEAKS: "careful sealing", _OUT_AND_IN: "a heavier or stiffer casing"}


def rules(answer: BoxAnswer) -> str:
    """Where what goes round the box decides."""
    if not answer.ruled:
        return "In no band does more sound go round the passage than through it: the passage itself decides."
    ways: dict[str, list[str]] = {}
    for band in answer.ruled:
        ways.setdefault(_rounds(answer, band), []).append(name(band))
    told = "; ".join(f"at {listed(bands)} mostly {way}" for way, bands in ways.items())
    bands = listed([name(band) for band in answer.ruled])
    cures = [cure for way, cure in _CURES.items() if way in ways]
    return (
        f"At {bands} more sound goes round the passage than through it ({told}), so more fibre "
        f"or turns gain next to nothing there; most is gained by {listed(cures)}."
    )


def dip_words(dip: Dip, plan: Plan) -> str:
    """The reason of a dip."""
    if dip.reason == DIVIDERS:
        return "the dividers let sound through; rigid ones would not have this dip"
    if not dip.reason:
        return "no single length of it fits; the air inside, the fibre and the boards swing together"
    length = show(dip.length, "length", plan.units)
    shifted = ", shifted by dividers that give way" if dip.shifted else ""
    return f"about {HALVES[dip.halves]} along the {dip.reason} of {length}{shifted}"


def dip_depth(dip: Dip) -> str:
    """Where and how deep a dip is."""
    at = f"{dip.frequency:.0f} Hz"
    return f"dips to {layout.whole(dip.loss)} dB at {at}, {layout.whole(dip.depth)} dB under its neighbours"


def dips_told(answer: BoxAnswer, plan: Plan) -> str:
    """The deepest dips of the passage, with what makes them."""
    if not answer.heard_dips:
        return "The loss rises without a dip worth a decibel as far as the passage decides and the sound field reaches."
    told = [f"{dip_depth(dip)} ({dip_words(dip, plan)})" for dip in answer.heard_dips]
    return f"It resonates: it {'; it '.join(told)}."


def pair_told(pair: BoxPair) -> str:
    """Whether the decibels of two boxes add, and where they do not."""
    known = [band for band in SPOKEN if CENTRES[band] * np.sqrt(2.0) <= pair.limit * 1.1]
    worst = min(known, key=lambda band: pair.interaction[band], default=None)
    held = f"Above {pair.limit:.0f} Hz, where the ducts carry more than plane waves, the sum is all that is known."
    if worst is None or abs(min(pair.interaction[band] for band in known)) < WORTH:
        told = "As far as the sound field reaches, their decibels add"
    else:
        told = (
            f"Their decibels do not simply add: sound goes to and fro between them, and at {name(worst)} that "
            f"costs {layout.whole(-float(pair.interaction[worst]))} dB of the plain sum"
        )
    return (
        f"{told}. {held} Each box counts for no more than what goes round it; a shared wall, frame or gap that "
        "carries sound past both is not known here and would hold the pair to the loss of one."
    )


def air_told(answer: BoxAnswer, plan: Plan) -> str:
    """Flow, speed, pressure and mass in one sentence."""
    through = answer.through
    return (
        f"In {through.mode} {flow(plan, through.flow)} go through it: {velocity(plan, through.velocity)} in its "
        f"narrowest part ({through.narrowest}), {pressure(plan, through.loss)} lost. It weighs about "
        f"{mass(plan, weight_of(answer.built).whole)}: {listed(_masses(answer, plan))}; screws and sealant come on "
        f"top. {PLANNING}"
    )


def _masses(answer: BoxAnswer, plan: Plan) -> list[str]:
    found = weight_of(answer.built).made_of
    return [f"{mass(plan, value)} {words}" for words, value in found.items() if value > 0.0]


def best_change(answer: BoxAnswer, changes: tuple[BoxChange, ...]) -> str:
    """The change that gains most in the weakest band, and the one that costs most there."""
    band = answer.weakest
    fit = [change for change in changes if change.counted is not None and not change.frame]
    gains = [(float(change.counted[band]), change.words) for change in fit if change.counted is not None]
    most, words = max(gains, default=(0.0, ""))
    least, other = min(gains, default=(0.0, ""))
    if most < WORTH:
        told = f"None of the changes tried gains half a decibel at {name(band)}."
    else:
        told = f"Of the changes tried, most is gained at {name(band)} with: {words} ({most:+.0f} dB)."
    return told if least > -WORTH else f"{told} Most is lost there with: {other} ({least:+.0f} dB)."


def faces_told(answer: BoxAnswer, plan: Plan) -> list[str]:
    """Which faces may be light and which must be heavy, and why."""
    groups: dict[str, list[FaceShare]] = {}
    for face in answer.faces:
        groups.setdefault(face.verdict, []).append(face)
    judged = f"Judged from 63 Hz to 1 kHz, by what the casing as a whole would let out into {_around(answer, plan)}:"
    lines = [_beside(answer, plan), judged]
    for verdict, words in _VERDICTS.items():
        if verdict in groups:
            lines.append(words(groups[verdict]))
    return lines


def _around(answer: BoxAnswer, plan: Plan) -> str:
    space = answer.standing.within
    return plan.spoken(space) if space else "the space around it"


def _beside(answer: BoxAnswer, plan: Plan) -> str:
    """Whether the casing or the passage is the weaker way through the box."""
    around = _around(answer, plan)
    lead = (answer.casing - counted(answer.octaves.loss, answer.default_ceiling))[JUDGED]
    worst = name(JUDGED.start + int(np.argmin(lead)))
    if lead.min() >= LEAD:
        return (
            f"Out through the casing and back in loses at least {lead.min():.0f} dB more than the passage (least at "
            f"{worst}): for what this box passes on, its casing is heavy enough. More mass is only for what {around} "
            "hears, or for noise there that breaks in."
        )
    return (
        f"Out through the casing and back in loses {_than(float(lead.min()))} the passage at {worst}: a heavier casing "
        f"helps what the box passes on, and what {around} hears."
    )


def _than(lead: float) -> str:
    return (
        f"only {lead:.0f} dB more than" if lead >= 0.5 else f"{-lead:.0f} dB less than" if lead < -0.5 else "as much as"
    )


def _heavy(faces: list[FaceShare]) -> str:
    least, most = min(face.if_half for face in faces), max(face.if_half for face in faces)
    gain = max(face.if_double for face in faces)
    return (
        f"Must be heavy: {_names(faces)}. Half the thickness on one of them lets {_span(least, most)} dB more out; "
        f"twice the thickness gains up to {gain:.0f} dB."
    )


def _light(faces: list[FaceShare]) -> str:
    quiet = [
        f"{face.face} ({layout.whole(float(np.nanmean(face.inside[1:])))} dB there; lets out at least "
        f"{layout.whole(face.least_margin)} dB less than the whole)"
        for face in faces
    ]
    return (
        f"May be light: {listed(quiet)}. The sound has lost most before it gets there: half the thickness lets "
        "less than 1 dB more out in all."
    )


def _as_it_is(faces: list[FaceShare]) -> str:
    most = max(face.if_half for face in faces)
    return (
        f"Right as they are: {_names(faces)}. Half the thickness costs up to {most:.0f} dB, twice the thickness gains "
        "less than 1 dB."
    )


_VERDICTS = {"must be heavy": _heavy, "as it is": _as_it_is, "may be light": _light}


def _names(faces: list[FaceShare]) -> str:
    return listed([face.face for face in faces])


def _span(low: float, high: float) -> str:
    return f"{low:.0f}" if f"{low:.0f}" == f"{high:.0f}" else f"{low:.0f} to {high:.0f}"


def case_words(case: str) -> str:
    """A bracket as the tables name it."""
    return case.replace("half the resistivity", "0.5 x resistivity").replace("half as much again", "1.5 x resistivity")


def validity_told(answer: BoxAnswer, plan: Plan) -> list[str]:
    """Where the figures hold and how sure the arithmetic is."""
    held, units = answer.validity, plan.units
    low = (answer.thirds.centres > 56.0) & (answer.thirds.centres < 281.0)
    third = max(float(np.nanmax(answer.octaves.error[1:4])), float(np.max(answer.thirds.error[low], initial=0.0)))
    return [
        f"Sound field: up to {held.field_limit:.0f} Hz, where the ducts begin to carry more than plane waves; solved "
        f"on cells of {show(held.cell, 'length', units)} ({held.unknowns} unknowns). Beside cells of "
        f"{show(held.companion_cell, 'length', units)} the numerical error is at most {third:.1f} dB from 63 to 250 Hz "
        "and grows above, as the tables say.",
        "Above it: the last value of the field, or the handbook estimate of lining and turns if that is less; within "
        "the range of such estimates.",
        f"Fibre: Miki's fit for a flow resistivity of {held.resistivity:.0f} Pa s/m2, measured from "
        f"{held.fibre_low:.0f} to {held.fibre_high:.0f} Hz and continued outside. The range holds a frame that moves "
        "or not, half to one and a half times that resistivity, and rigid dividers.",
        "Sound through dividers and the core of a flexible duct is part of the field. What goes round it is the "
        "casing, face by face from the field with the space around taken as tight, and gaps and joints by the stated "
        "default. A panel in resonance with the air inside is as unsure as panels are.",
        "Loss is that between matched ducts; what a fan or room hears also depends on what stands at either end, which "
        "`sordino assess` works out.",
    ]
