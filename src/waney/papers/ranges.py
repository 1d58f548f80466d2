"""Ranges in words: the likely figure, and from where to where nine in ten lie."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

NOT_KNOWN = "not known"


class Points(Protocol):
    """What has a likely figure and two ends: an estimate, or one as it goes out."""

    @property
    def likely(self) -> float:
        """Half lie below."""

    @property
    def low(self) -> float:
        """One in twenty lies below."""

    @property
    def high(self) -> float:
        """One in twenty lies above."""


def spread(found: Points | None, say: Callable[[float], str]) -> str:
    """Likely, then low to high with the unit said once each; a figure without doubt is said alone."""
    if found is None:
        return NOT_KNOWN
    low, likely, high = (say(value) for value in (found.low, found.likely, found.high))
    return likely if low == high else f"{likely}, {low.removesuffix(_unit_of(low))} to {high}"


def days(found: Points) -> str:
    """Days with their range, whole from ten on: "45 days, 30 to 80 days"."""
    return spread(found, lambda value: f"{value:.0f} days" if value >= 10.0 else f"{value:.1f} days")


def _unit_of(said: str) -> str:
    """What stands after the number, from its blank on."""
    _, blank, unit = said.partition(" ")
    return blank + unit
