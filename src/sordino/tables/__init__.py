"""Published tables as data: one CSV file each, header lines `# key: value`, read by the one loader here.

Header keys: title, source, edition, unit, mark (read, second-hand, derived, memory), note. The first line
without a `#` names the columns. A cell that is not a number stays text.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from sordino.bands import Array


@dataclass(frozen=True, eq=False)
class Table:
    """One published table: its header, its column names and its rows as text."""

    header: dict[str, str]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @cache  # noqa: B019 - tables live as long as the program
    def text(self, column: str) -> tuple[str, ...]:
        """A column as text."""
        place = self.columns.index(column)
        return tuple(row[place] for row in self.rows)

    @cache  # noqa: B019
    def numbers(self, *columns: str) -> Array:
        """Columns as numbers, read-only: shape (rows,) for one column, (rows, columns) for several."""
        places = [self.columns.index(column) for column in columns]
        values = np.array([[float(row[place] or "nan") for place in places] for row in self.rows])
        values = values[:, 0] if len(columns) == 1 else values
        values.setflags(write=False)
        return values

    def spellings(self) -> dict[str, str]:
        """Every spelling on record and the name it means: the first column, and what `also` lists after semicolons."""
        pairs = zip(self.text(self.columns[0]), self.text("also"), strict=True)
        return {word.strip(): name for name, also in pairs for word in (name, *also.split(";"))}

    @cache  # noqa: B019
    def row(self, column: str, key: str) -> dict[str, str]:
        """The row whose `column` holds `key`, as a mapping of column to text."""
        for row in self.rows:
            if row[self.columns.index(column)] == key:
                return dict(zip(self.columns, row, strict=True))
        raise KeyError(f"no {column} {key!r} among {', '.join(self.text(column))}")


@cache
def table(name: str) -> Table:
    """The table at `sordino/tables/<name>.csv`, as `table("sound/noise_criteria")`."""
    lines = files("sordino.tables").joinpath(f"{name}.csv").read_text("utf-8").splitlines()
    head = [line[1:].partition(":") for line in lines if line.startswith("#")]
    body = [row for row in csv.reader(line for line in lines if line and not line.startswith("#"))]
    columns, *rows = [tuple(cell.strip() for cell in row) for row in body]
    return Table({key.strip(): value.strip() for key, _, value in head}, columns, tuple(rows))
