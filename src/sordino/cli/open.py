"""`sordino open`: the page."""

from __future__ import annotations

import contextlib
import errno
from pathlib import Path

import click

from sordino.cli.ending import MET
from sordino.errors import Fault, PlanError, Refusal


@click.command("open", short_help="Work on a project in the browser, on this machine only.")
@click.argument("file", type=click.Path(), required=False)
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Port to listen at.  [default: any free one]")
def command(file: str | None, no_browser: bool, port: int) -> int:
    """Open the page of the project in FILE, or begin a new project with a few questions.

    Serves this machine only, at an address with a key that is good until you stop it with Ctrl+C. FILE is written
    when you save, and keeps your comments and their order.
    """
    path = None if file is None else Path(file)
    if path is not None and not path.is_file():
        problem, cure = _why_none(path)
        raise PlanError([Fault(file=str(file), line=None, key="", problem=problem, cure=cure)])
    from sordino.web.serving import Address, serve, shown

    def told(address: Address) -> None:
        click.echo(f"The page is at {address}")
        click.echo("Stop it with Ctrl+C.")
        if not no_browser:
            shown(address)

    def kept(place: Path | OSError) -> None:
        with contextlib.suppress(OSError):  # the terminal may be gone
            if isinstance(place, OSError):
                click.echo(f"Not saved, and it could not be kept: {(place.strerror or str(place)).lower()}.")
            else:
                click.echo(f"Not saved: it is kept in {place.name}, beside the project, and offered at the next start.")

    folder = (path.parent if path is not None else Path()).resolve()
    try:
        serve(path, folder, port, told, kept)
    except OSError as error:
        if error.errno not in (errno.EADDRINUSE, errno.EACCES) or error.filename is not None:
            raise
        taken = "another program listens" if error.errno == errno.EADDRINUSE else "this machine lets no user listen"
        raise Refusal(f"{taken} at port {port}", "give another --port, or leave it out for a free one") from None
    return MET


def _why_none(path: Path) -> tuple[str, str]:
    """Why there is no project file at a path, and what would do."""
    if path.is_dir():
        found = sorted(each.name for each in path.glob("*.toml"))[:3]
        cure = f"Name a project file in it, as {path / found[0]}." if found else "Name a project file, as studio.toml."
        return "this is a folder.", cure
    try:
        path.stat()
    except OSError as error:
        if error.errno == errno.ELOOP:
            return "this link leads back to itself.", "Name the file that it should lead to."
    if path.is_symlink():
        return "this link leads to a file that is not there.", "Name the file itself, or make the link anew."
    return "there is no such file.", "Check the name, or leave it out to begin a new project."
