"""The two ways Sordino refuses: a statement that can't be used, a number outside a method's reach."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class SordinoError(Exception):
    """Root of every error Sordino raises on purpose."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """One mistake in a project file: where it is, what was read, what would do."""

    file: str
    line: int | None
    key: str
    problem: str
    cure: str = ""

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        parts = [place, self.key, self.problem] if self.key else [place, self.problem]
        message = ": ".join(parts)
        return f"{message} {self.cure}" if self.cure else message


class PlanError(SordinoError):
    """The project file can't be used; carries every fault found, in file order."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class Refusal(SordinoError, ValueError):
    """A value that can't be used: what was read, and what would do.

    `{read}` in the problem stands for what was written; whoever knows the text puts it in.
    """

    def __init__(self, problem: str, cure: str) -> None:
        self.problem, self.cure = problem, cure
        super().__init__(f"{problem}; {cure}")


class OutOfRange(SordinoError, ValueError):
    """A physical quantity outside what a function can answer for: names it, its value and the range."""
