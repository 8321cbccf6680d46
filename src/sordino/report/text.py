"""The whole report as plain text: the answer first, then the findings, then the tables."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.report import air, freshair, layout, ledger
from sordino.report.findings import findings
from sordino.report.isolation import isolation
from sordino.report.moisture import moisture
from sordino.report.phrases import CAUTION, LEGEND
from sordino.report.spectra import spectra
from sordino.report.sureness import sureness
from sordino.report.verdict import verdict
from sordino.report.weight import structure
from sordino.search.help import Help


def title(found: Assessment, variant: str | None = None) -> list[str]:
    """The project's name, and the variant's."""
    name = found.plan.title + (f", variant {variant}" if variant else "")
    return [name, "=" * len(name)]


def answer(found: Assessment, modes: tuple[str, ...], helps: Help, variant: str | None = None) -> str:
    """Title and verdict alone."""
    return layout.page([*title(found, variant), *verdict(found, modes, helps)])


def report(
    found: Assessment,
    modes: tuple[str, ...],
    helps: Help,
    variant: str | None = None,
    lines_of_air: bool = False,
) -> str:
    """Everything a person reads of an assessment."""
    return layout.page(
        [
            *title(found, variant),
            *verdict(found, modes, helps),
            *findings(found, modes),
            *spectra(found, modes),
            *isolation(found),
            *air.flows(found, modes),
            *air.fans(found, modes),
            *air.speeds(found, modes),
            *(air.pressure_ledger(found, modes) if lines_of_air else []),
            *air.pressures(found, modes),
            *air.balance(found),
            *freshair.fresh_air(found, modes),
            *freshair.rules(found),
            *freshair.sessions(found, modes),
            *freshair.heat(found, modes),
            *freshair.humidity(found, modes),
            *freshair.choices(found, modes),
            *moisture(found),
            *structure(found),
            *sureness(found, modes),
            *closing(),
        ]
    )


def schedule(found: Assessment, room: str, modes: tuple[str, ...]) -> str:
    """The consultant's schedule of one room."""
    return layout.page([*ledger.schedule(found, room, modes), *closing()])


def closing() -> list[str]:
    """Legend and cautions."""
    return [*layout.heading("Read this with it"), *layout.paragraph(LEGEND), *layout.paragraph(CAUTION)]
