"""How large or small a field may be, beyond what its kind of quantity says."""

from __future__ import annotations

from pydantic import AfterValidator

from sordino.errors import Refusal


def within(low: float, high: float, problem: str, cure: str) -> AfterValidator:
    """A further check of a field: what lies outside `low` to `high` (SI) is refused, `{read}` being its text."""

    def checked(value: float) -> float:
        if not low <= value <= high:
            raise Refusal(problem, cure)
        return value

    return AfterValidator(checked)
