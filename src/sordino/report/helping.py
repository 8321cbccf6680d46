"""What helps against a finding, in words: against noise, for the loss between rooms, and all else."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.isolation import MARGIN
from sordino.assess.loudness import Loudness
from sordino.report.advice import Advice, Way
from sordino.report.gains import gain_advice
from sordino.report.indoor_words import indoor_advice
from sordino.report.phrases import count, figure, flow
from sordino.search.bypasses import Bypasses
from sordino.search.help import Help
from sordino.search.remedies import Remedies, Remedy


def advice(found: Assessment, finding: Finding, helps: Help) -> Advice:
    """What was tried for a finding; empty where nothing was."""
    noise = next((each for each in helps.noise if (each.place, each.mode) == (finding.subject, finding.mode)), None)
    if noise is not None and finding.question == "noise":
        return remedy_advice(found, noise)
    loss = next((each for told, each in helps.isolation if told is finding), None)
    if loss is not None:
        return _loss_advice(loss, finding)
    gained = gain_advice(found, finding, helps)
    return gained if gained.sentence else indoor_advice(found, finding, helps)


def remedy_advice(found: Assessment, mine: Remedies) -> Advice:
    """What helps most against a room's noise, each with its computed figure."""
    heard = found.noise[mine.place, mine.mode]
    if not mine.best:
        alone = _untouched(heard)
        return Advice(rest=f"none of {count(mine.tried, 'change')} tried is worth half a decibel{alone}.")
    ways = tuple(
        Way(
            words=_remedy(found, heard, each, instead=each is mine.best[0]),
            change=each.words,
            plan=each.plan,
            meets=each.meets,
        )
        for each in mine.told
    )
    return Advice(ways=ways, rest=_reach(mine))


def _reach(mine: Remedies) -> str:
    if mine.reaches:
        return ""
    return "It does not reach the target." if len(mine.told) == 1 else "None of these reaches the target."


def _untouched(heard: Loudness) -> str:
    stated = heard.governing.cause == "background" and not heard.governing.via
    return ": the stated background alone is as loud, and no duct changes that" if stated else ""


def _remedy(found: Assessment, heard: Loudness, remedy: Remedy, instead: bool = False) -> str:
    before = f" instead of {figure(heard.scale, remedy.before)}" if instead else ""
    cost = ""
    if abs(remedy.flow_after - remedy.flow_before) > 0.005 * remedy.flow_before:
        then, now = flow(found.plan, remedy.flow_after), flow(found.plan, remedy.flow_before)
        cost = f", at which {remedy.run} carries {then} for {now}"
    return f"{figure(heard.scale, remedy.after)}{before} with {remedy.words}{cost}"


def _loss_advice(mine: Bypasses, finding: Finding) -> Advice:
    """What helps most where ducts spoil a shell."""
    if mine.last is None:
        return Advice(rest=f"none of {count(mine.tried, 'change')} tried is worth a decibel.")
    change = " and ".join(mine.last.words)
    words = f"the ducts are {_lead(mine.last.after)} the shell with {change}"
    enough = mine.last.after >= MARGIN
    still = "" if enough else "That still costs it more than half a decibel."
    return Advice(ways=(Way(words=words, change=change, plan=mine.last.plan, meets=enough),), rest=still)


def _lead(value: float) -> str:
    whole = round(value)
    return f"{-whole} dB weaker than" if whole < 0 else f"{whole} dB better than"
