"""Lengths that come to mind first: one long log, or the same stem as two short ones."""

from __future__ import annotations

from math import floor

from waney.pieces.measures import FOOT_M

SAW_KERF_M = 0.01
"""What a chain saw takes; common practice, no source."""
SHORTEST_HALF_M = 4.0 * FOOT_M
"""Below it nobody halves a log. Ours, no source."""


def long_or_halved(length_m: float, grain_m: float) -> tuple[int, int] | None:
    """How long one log is, and each of two, in whole grains [m], as long as the stem gives; None: too short to be halved.

    >>> long_or_halved(4.99, FOOT_M), long_or_halved(4.88, FOOT_M), long_or_halved(2.0, FOOT_M)
    ((16, 8), (16, 7), None)
    """
    half = floor((length_m - SAW_KERF_M) / 2.0 / grain_m + 1e-9)
    if half * grain_m < SHORTEST_HALF_M - 1e-9:
        return None
    return floor(length_m / grain_m + 1e-9), half
