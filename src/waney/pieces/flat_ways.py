"""Flat ways: all ways to flatten a piece, side by side: as much as can be left, evenly, or cut in two first."""

from __future__ import annotations

from dataclasses import dataclass

from waney.pieces.flattening import BadHeights, Flattened, Halves, Heights, NothingLeft, Warped, best_halves, flattened, warped


@dataclass(frozen=True)
class FlatWays:
    """best: the most thickness; equally: as much off both faces, None where nothing is left so; read: wind, cup and bow, None
    with too few rows; across, along: cut in two first, None where no line leaves two rows on both sides."""

    best: Flattened
    equally: Flattened | None
    read: Warped | None
    across: Halves | None
    along: Halves | None

    def saves_m(self, halves: Halves) -> float:
        """Thickness that cutting in two first keeps more than flattening it whole; below zero where it keeps less."""
        return halves.thickness_m - self.best.thickness_m


def flat_ways(heights: Heights) -> FlatWays:
    """All of them. Raises NothingLeft."""
    best = flattened(heights)
    return FlatWays(best, _equally(heights), _read(heights), *(best_halves(heights, across=way) for way in (True, False)))


def _equally(heights: Heights) -> Flattened | None:
    try:
        return flattened(heights, equally=True)
    except NothingLeft:
        return None


def _read(heights: Heights) -> Warped | None:
    try:
        return warped(heights)
    except BadHeights:
        return None
