"""A cross-section that rooms and clear spaces are stated by: width and height, or a profile of corners."""

from __future__ import annotations

from sordino.errors import Refusal

Corners = tuple[tuple[float, float], ...]
"""Across and up, m."""


def corners_of(profile: Corners | None, width: float | None, height: float | None) -> Corners:
    """The cross-section as corners; one of the two ways is stated."""
    if profile is not None:
        return profile
    assert width is not None
    assert height is not None
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def check_one_shape(what: str, profile: Corners | None, width: float | None, height: float | None) -> None:
    """Refuse a thing that has no shape or two."""
    if profile is None and (width is None or height is None):
        raise Refusal(f"{what} has no shape", "give width and height, or a profile")
    if profile is not None and (width is not None or height is not None):
        raise Refusal(f"{what} has two shapes", "give either width and height or a profile, not both")
