"""`sordino signal`: test signals and a sheet that says how to use them."""

from __future__ import annotations

from pathlib import Path

import click

RATES = ("44100", "48000", "96000")
SHORTEST, LONGEST = 3.0, 60.0


@click.command("signal", short_help="Write test signals to play, and a sheet that says how to measure.")
@click.option(
    "--out", "out", type=click.Path(file_okay=False), required=True, metavar="DIR", help="Folder to write to."
)
@click.option("--rate", type=click.Choice(RATES), default="48000", show_default=True, help="Samples a second.")
@click.option(
    "--seconds",
    type=click.FloatRange(SHORTEST, LONGEST),
    default=10.0,
    show_default=True,
    help="Length of the sweep; twice as long lifts it 3 dB further out of the noise.",
)
def command(out: str, rate: str, seconds: float) -> int:
    """Write sweep.wav, pink.wav, tone.wav and measuring.txt to a folder.

    The sheet says where loudspeaker and microphone go, what to record, and how to state it in the project file for
    `sordino measure`.
    """
    from sordino.report.files import write
    from sordino.report.signals import NAMES, signals

    if not seconds >= SHORTEST:  # what is no number passes every range
        raise click.UsageError(f"--seconds is a number from {SHORTEST:g} to {LONGEST:g}, not {seconds:g}.")
    if not out.strip():
        raise click.UsageError("--out needs the name of a folder.")
    folder = Path(out)
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in signals(seconds, int(rate)):
        write(folder / name, content)
    click.echo(f"Test signals and the sheet that says how to use them are in {out}:")
    for name in NAMES:
        click.echo(f"  {folder / name}")
    click.echo("Start quietly: low notes at full level can hurt a loudspeaker, and loud noise hurts ears.")
    return 0
