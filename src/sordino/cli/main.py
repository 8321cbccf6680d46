"""The group of commands: each is imported only when it runs, and every ending is one of three."""

from __future__ import annotations

import difflib
import gc
import importlib
import os
import signal
import sys
from collections.abc import Callable
from functools import partial
from typing import Any, cast

import click

from sordino import __version__
from sordino.cli.ending import ended

# A short run makes many small objects and hardly a cycle: looking for cycles at every 700th is wasted. How a project is
# read must not hang on what else is installed, and looking for such plugins takes as long as reading three projects.
gc.set_threshold(50_000)
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

COMMANDS = {
    "new": "Write a commented project file to start from.",
    "assess": "Say what every room will sound like and what the air will do.",
    "compare": "Set variants of a project side by side.",
    "box": "Say what one lined box takes and why, and draw its sound field.",
    "build": "Write the build book: drawings, cut plan, shopping list, steps.",
    "search": "Look for a box that fits and loses what is wanted.",
    "signal": "Write test signals to play, and a sheet that says how to measure.",
    "measure": "Say what a test gave, beside what was predicted.",
    "open": "Work on a project in the browser, on this machine only.",
    "schema": "Print the JSON Schema of the project file, for editors.",
    "demo": "Assess the bundled example and leave the results in a folder.",
}
"""Each command with its line in the list; its module has the same name."""

EPILOG = (
    "Exit status: 0 every target is met, 1 some target is missed or likely to be, 2 the input can't be used. "
    "Predictions only; local codes and licensed people have the last word."
)


class Lazy(click.Group):
    """A group that knows its commands by name and imports one when it is wanted."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"sordino.cli.{cmd_name}")
        return cast(click.Command, module.command)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = difflib.get_close_matches(args[0], COMMANDS, n=1)
            hint = f"Did you mean {near[0]}?" if near else f"Commands: {', '.join(COMMANDS)}."
            ctx.fail(f"there is no command {args[0]!r}. {hint}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def __call__(self, *args: Any, **extra: Any) -> Any:
        """As a program: what is done is done, so no interrupt counts while the interpreter puts its things away."""
        try:
            return self.main(*args, **extra)
        finally:
            signal.signal(signal.SIGINT, signal.SIG_IGN)

    def main(self, *args: Any, standalone_mode: bool = True, **extra: Any) -> Any:
        run: Callable[[], Any] = partial(super().main, *args, standalone_mode=False, **extra)
        return sys.exit(ended(run)) if standalone_mode else run()


@click.group(
    cls=Lazy, epilog=EPILOG, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, prog_name="sordino")
def main() -> None:
    """Let air into a quiet room and keep sound out of it.

    Write rooms, fans, ducts and boxes once, in one plain project file, and read what each room will
    sound like, what the air will do, which path is to blame and how sure that is.
    """
