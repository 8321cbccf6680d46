"""Sound fields solved apart from the page, in a process that can be ended: one line for each box that is done.

Reads a list of what is wanted on stdin, as JSON. Results go to the store that the page reads too.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from collections.abc import Iterator

from sordino.assess.box_answer import indoor_air
from sordino.assess.boxes import field_of
from sordino.elements.built_box import BuiltBox
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.web.solved.ahead import Wanted, usual_changes


def main() -> None:
    """Solve what stdin asks for."""
    with contextlib.suppress(OSError, AttributeError):
        os.nice(10)  # whoever types comes first
    for each in json.load(sys.stdin):
        for done in _done(Wanted(**each)):
            print(json.dumps({"done": done}), flush=True)


def _done(wanted: Wanted) -> Iterator[str]:
    """Each thing once it is solved."""
    plan = plan_of(parsed(wanted.text, wanted.name), wanted.variant)
    air = indoor_air(plan)
    for run in plan.run.values():
        for part in run.parts:
            if isinstance(part, BuiltBox) and part.box in wanted.boxes:
                if wanted.changes:
                    yield from (change.words for change in usual_changes(plan, part.box))
                else:
                    field_of(part.build, part.section, air, wanted.size)
                    yield part.box


if __name__ == "__main__":
    main()
