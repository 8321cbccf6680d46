"""Sound fields solved apart from the page, in a process that can be ended: one line for each box that is done.

Reads one JSON object on stdin: the project's text, its name, the boxes wanted and the size of cells in m. Results go
to the store that the page reads too.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys

from sordino.assess.box_answer import indoor_air
from sordino.assess.boxes import field_of
from sordino.elements.built_box import BuiltBox
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed


def main() -> None:
    """Solve what stdin asks for."""
    with contextlib.suppress(OSError, AttributeError):
        os.nice(10)  # whoever types comes first
    asked = json.load(sys.stdin)
    plan = plan_of(parsed(asked["text"], asked["name"]))
    air = indoor_air(plan)
    for run in plan.run.values():
        for part in run.parts:
            if isinstance(part, BuiltBox) and part.box in asked["boxes"]:
                field_of(part.build, part.section, air, asked["size"])
                print(json.dumps({"done": part.box}), flush=True)


if __name__ == "__main__":
    main()
