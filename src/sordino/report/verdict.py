"""The answer in plain words: one sentence for every room, what helps most, and what else is missed."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.loudness import Loudness
from sordino.report import layout
from sordino.report.gains import gain_words
from sordino.report.indoor_words import indoor_words
from sordino.report.phrases import count, figure, flow
from sordino.search.help import Help
from sordino.search.remedies import Remedies, Remedy

MARGIN = 15
COUNTED = ("met", "likely met", "likely missed", "missed", "stop")
HEED = "worth a look"
RANK = ("stop", "missed", "likely missed", HEED, "likely met", "met", "note")
"""How findings are told, the worst first."""


def told_as(finding: Finding) -> str:
    """How a finding stands, as one of RANK."""
    return HEED if finding.heed else finding.standing


def rank(finding: Finding) -> int:
    """Its place among findings, 0 for the worst."""
    return RANK.index(told_as(finding))


def summary(found: Assessment, modes: tuple[str, ...]) -> str:
    """How many targets are met and missed, in one sentence."""
    held = targets(found, modes)
    if not held:
        return "No target is set, so nothing is met or missed."
    counts = {name: sum(finding.standing == name for finding in held) for name in COUNTED}
    if counts["met"] == len(held):
        return f"Every target is met, all {len(held)} of them." if len(held) > 1 else "The one target is met."
    return f"Of {count(len(held), 'target')}: {', '.join(f'{n} {name}' for name, n in counts.items() if n)}."


def verdict(found: Assessment, modes: tuple[str, ...], helps: Help) -> list[str]:
    """The first thing a reader sees."""
    told = told_findings(found, modes)
    lines = layout.paragraph(summary(found, modes))
    several = len(found.plan.mode) > 1
    others = list(also_missed(found, modes))
    for finding in (each for each in others if each.standing == "stop"):
        lines += _other(found, finding, helps)
    for finding in told:
        text = finding.sentence + _help(found, finding, helps)
        mode = f"[{finding.mode}] " if several else ""
        lines += ["", *layout.hanging(_margin(finding), mode + text, MARGIN)]
    for finding in (each for each in others if each.standing != "stop"):
        lines += _other(found, finding, helps)
    return lines


def _other(found: Assessment, finding: Finding, helps: Help) -> list[str]:
    """What is missed besides noise, with what helps."""
    text = _label(found, finding) + finding.sentence + _other_help(found, finding, helps)
    return ["", *layout.hanging(_margin(finding), text, MARGIN)]


def _label(found: Assessment, finding: Finding) -> str:
    """The mode that it holds in, where there are several."""
    return f"[{finding.mode}] " if finding.mode and len(found.plan.mode) > 1 else ""


def _margin(finding: Finding) -> str:
    return finding.standing if finding.standing != "note" else "no target"


def told_findings(found: Assessment, modes: tuple[str, ...]) -> list[Finding]:
    """The noise findings of the answer: each mode where targets differ, else the loudest mode of each place."""
    places: dict[str, list[Finding]] = {}
    for finding in found.findings:
        if finding.question == "noise" and finding.mode in modes:
            places.setdefault(finding.subject, []).append(finding)
    return [finding for group in places.values() for finding in _worth_telling(group)]


def _worth_telling(group: list[Finding]) -> list[Finding]:
    if len({(finding.limit, finding.unit) for finding in group}) > 1:
        return group
    return [max(group, key=lambda finding: (-rank(finding), finding.value or 0.0))]


def targets(found: Assessment, modes: tuple[str, ...]) -> list[Finding]:
    """Findings that are held against something the plan or a table asks for."""
    known = [finding for finding in found.findings if finding.mode in ("", *modes) and finding.standing != "note"]
    return [finding for finding in known if finding.limit is not None or finding.missed]


def also_missed(found: Assessment, modes: tuple[str, ...]) -> Iterator[Finding]:
    """Missed targets that are not a room's noise."""
    for finding in found.findings:
        if finding.missed and finding.question != "noise" and finding.mode in ("", *modes):
            yield finding


def _help(found: Assessment, finding: Finding, helps: Help) -> str:
    mine = next((each for each in helps.noise if (each.place, each.mode) == (finding.subject, finding.mode)), None)
    return "" if mine is None else f" {remedy_words(found, mine)}"


def remedy_words(found: Assessment, mine: Remedies) -> str:
    """What helps most, each with its computed figure."""
    heard = found.noise[mine.place, mine.mode]
    if not mine.best:
        alone = _untouched(heard)
        return f"What helps most: none of {count(mine.tried, 'change')} tried is worth half a decibel{alone}."
    first, *rest = mine.best
    words = f"What helps most: {_remedy(found, heard, first, instead=True)}"
    words += "".join(f"; {_remedy(found, heard, other)}" for other in rest)
    words += f"; {_remedy(found, heard, mine.together)}" if mine.together is not None else ""
    return f"{words}.{_reach(mine)}"


def _reach(mine: Remedies) -> str:
    if mine.reaches:
        return ""
    return " It does not reach the target." if len(mine.told) == 1 else " None of these reaches the target."


def _other_help(found: Assessment, finding: Finding, helps: Help) -> str:
    told = (_loss_help(finding, helps), gain_words(found, finding, helps), indoor_words(found, finding, helps))
    return "".join(told)


def _loss_help(finding: Finding, helps: Help) -> str:
    """What helps most where ducts spoil a shell."""
    mine = next((found for told, found in helps.isolation if told is finding), None)
    if mine is None:
        return ""
    if mine.last is None:
        return f" What helps most: none of {count(mine.tried, 'change')} tried is worth a decibel."
    together = " and ".join(mine.last.words)
    still = " That still costs it more than half a decibel." if mine.last.after < (finding.limit or 0.0) else ""
    return f" What helps most: the ducts are {_lead(mine.last.after)} the shell with {together}.{still}"


def _lead(value: float) -> str:
    whole = round(value)
    return f"{-whole} dB weaker than" if whole < 0 else f"{whole} dB better than"


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
