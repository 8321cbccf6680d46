"""Names given on the command line, held against those of the project."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping

from sordino.errors import Fault, PlanError


def chosen(
    file: str, given: str | None, known: Iterable[str], what: str, shown: Mapping[str, str] | None = None
) -> tuple[str, ...]:
    """The one name given, as written or as `shown` in reports, or all; a PlanError says which there are."""
    names = tuple(known)
    if given is None:
        return names
    if given in names:
        return (given,)
    alike = [key for key, title in (shown or {}).items() if key in names and title.casefold() == given.casefold()]
    if len(alike) == 1:
        return (alike[0],)
    near = difflib.get_close_matches(given, names, n=1)
    hint = f"Did you mean {near[0]}? " if near else ""
    cure = f"{hint}There are: {', '.join(names)}." if names else "The file states none."
    raise PlanError([Fault(file=file, line=None, key="", problem=f"there is no {what} {given!r}.", cure=cure)])
