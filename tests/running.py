"""Commands run in process, as a person types them."""

from __future__ import annotations

from click.testing import CliRunner, Result

from sordino.cli.main import main


def run(*words: object) -> Result:
    """What a command line gives; a crash of the program's own is no answer."""
    result = CliRunner().invoke(main, [str(word) for word in words])
    assert "internal error" not in result.stderr
    assert "Traceback" not in result.output
    return result
