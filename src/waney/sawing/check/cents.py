"""Whole cents: half away from zero, and which whole numbers a figure may round to when it lies on the half."""

from __future__ import annotations

from math import floor

HALF_SLACK = 1e-6
"""A half cent to within this rounds away from zero (docs/design/sawing.md)."""


def whole(cents: float) -> int:
    """To the nearest whole cent, halves away from zero."""
    size = floor(abs(cents) + 0.5 + HALF_SLACK)
    return size if cents >= 0 else -size


def may_be(claimed: int, cents: tuple[float, ...]) -> bool:
    """Whether a sum of figures, each rounded by itself, may come out as claimed; only true halves leave a choice."""
    low = sum(min(whole(c - 2 * HALF_SLACK), whole(c + 2 * HALF_SLACK)) for c in cents)
    high = sum(max(whole(c - 2 * HALF_SLACK), whole(c + 2 * HALF_SLACK)) for c in cents)
    return low <= claimed <= high
