"""The best set of cuttings out of a blank: clear rectangles parallel to its edges, got by crosscutting and ripping
(nhla-cutting, memory).

Sixteenths of an inch: the blank rounds down, what blocks it rounds outward, least sizes round up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil, floor

import numpy as np

from waney.pieces.grading.kernel.search import Table, most_wood, pair
from waney.pieces.grading.lines import Box, Ground, Whole, ground, with_lines
from waney.pieces.measures import INCH_M

Region = tuple[int, int, int, int]
"""x lines i < j, y lines a < b"""

SIXTEENTH_M = INCH_M / 16.0
SLACK = 1e-6
UNITS_PER_SQUARE = 1.0 / (16 * 16 * 12)
"""Cutting units in a square of a sixteenth of an inch."""
ROUNDS = 12
"""Rounds of lines where the number of cuttings has no limit; a row of more least cuttings, all squeezed, is not to be met."""


@dataclass(frozen=True)
class Blank:
    """What is cut from: length and width, least sizes (width, length) and boxes that block, all in sixteenths of an inch.

    A cutting that holds a least area has one least size for each width at which another length does."""

    length: int
    width: int
    sizes: tuple[tuple[int, int], ...]
    blocked: tuple[Box, ...]

    @classmethod
    def of(
        cls,
        length_m: float,
        width_m: float,
        sizes_m: Iterable[tuple[float, float]],
        blocked_m: Iterable[tuple[float, ...]],
        least_area_m2: float = 0.0,
    ) -> Blank:
        """From metres; boxes are x0, x1, y0, y1. least_area_m2: what a cutting holds besides having a least size [m2]."""
        length, width = (floor(side / SIXTEENTH_M + SLACK) for side in (length_m, width_m))
        given = [(ceil(w / SIXTEENTH_M - SLACK), ceil(ln / SIXTEENTH_M - SLACK)) for w, ln in sizes_m]
        sizes = holding(given, ceil(least_area_m2 / SIXTEENTH_M**2 - SLACK), width)
        return cls(length, width, sizes, tuple(box for each in blocked_m if (box := _outward(each, length, width))))


def holding(sizes: Iterable[tuple[int, int]], area: int, widest: int) -> tuple[tuple[int, int], ...]:
    """Least sizes (width, length) of what has one of `sizes` and holds an area: each width where a shorter length does."""
    found: list[tuple[int, int]] = []
    for width, length in sizes:
        found.append((width, max(length, -(-area // width))))
        for wider in range(width + 1, widest + 1):
            needed = max(length, -(-area // wider))
            if needed < found[-1][1]:
                found.append((wider, needed))
    return tuple(found)


def _outward(box_m: tuple[float, ...], length: int, width: int) -> Box | None:
    x0, x1, y0, y1 = box_m
    box = (
        max(0, floor(x0 / SIXTEENTH_M + SLACK)),
        min(length, ceil(x1 / SIXTEENTH_M - SLACK)),
        max(0, floor(y0 / SIXTEENTH_M + SLACK)),
        min(width, ceil(y1 / SIXTEENTH_M - SLACK)),
    )
    return box if box[0] < box[1] and box[2] < box[3] else None


@dataclass(frozen=True)
class Cutting:
    """One cutting, in sixteenths of an inch."""

    x0: int
    x1: int
    y0: int
    y1: int

    @property
    def squares(self) -> int:
        """Its area, in squares of a sixteenth of an inch."""
        return (self.x1 - self.x0) * (self.y1 - self.y0)

    @property
    def units(self) -> float:
        """Cutting units in it."""
        return self.squares * UNITS_PER_SQUARE

    @property
    def box_m(self) -> tuple[float, float, float, float]:
        """x0, x1, y0, y1 [m]."""
        x0, x1, y0, y1 = (side * SIXTEENTH_M for side in (self.x0, self.x1, self.y0, self.y1))
        return x0, x1, y0, y1


@dataclass(frozen=True)
class Cuttings:
    """The best set found, largest first; exact: proved to be the best; at_most: units that no set can pass."""

    cuttings: tuple[Cutting, ...]
    exact: bool
    at_most: float

    @property
    def units(self) -> float:
        """Cutting units of all together."""
        return sum(cutting.squares for cutting in self.cuttings) * UNITS_PER_SQUARE


def best_cuttings(blank: Blank, most: int | None) -> Cuttings:
    """The set with the most wood in at most so many cuttings (None: any number). Raises TooManyMarks."""
    if most == 0:
        return Cuttings((), True, 0.0)
    reach = ground(blank.length, blank.width, blank.sizes, blank.blocked)
    at_most = int(reach.summed_useful()[-1, -1]) * UNITS_PER_SQUARE
    found = _searched(reach, blank, most)
    if found.units == at_most:
        return found
    between, exact = with_lines(reach, blank.sizes, ROUNDS if most is None else most - 1)
    if between is not reach:
        found = _searched(between, blank, most)
    return found if exact else replace(found, exact=False, at_most=max(found.units, at_most))


def _searched(between: Ground, blank: Blank, most: int | None) -> Cuttings:
    """The best set whose cuts lie on these lines."""
    sizes = np.array(blank.sizes, dtype=np.int64)
    table = most_wood(between.xs, between.ys, between.summed_bad(), between.summed_useful(), sizes, most or 1, most is None)
    found = sorted(_read_back(table, between, most), key=lambda c: (-c.units, c.x0, c.y0))
    return Cuttings(tuple(found), True, sum(cutting.squares for cutting in found) * UNITS_PER_SQUARE)


def full_width_cuttings(blank: Blank, most: int) -> Cuttings:
    """The longest clear stretches over the whole width, each of a least size."""
    spoiled = sorted((x0, x1) for x0, x1, _, _ in blank.blocked)
    found, at = [], 0
    for x0, x1 in [*spoiled, (blank.length, blank.length)]:
        if x0 > at and any(blank.width >= w and x0 - at >= ln for w, ln in blank.sizes):
            found.append(Cutting(at, x0, 0, blank.width))
        at = max(at, x1)
    kept = tuple(sorted(found, key=lambda c: (-c.units, c.x0))[:most])
    return Cuttings(kept, True, sum(c.units for c in kept))


def _read_back(table: Table, between: Ground, most: int | None) -> list[Cutting]:
    """The cuttings behind the figure of the whole blank."""
    nx, ny, bad = len(between.xs), len(between.ys), between.summed_bad()
    wanted: list[tuple[Region, int | None]] = [((0, nx - 1, 0, ny - 1), most)]
    found: list[Cutting] = []
    while wanted:
        region, left = wanted.pop()
        here = table[pair(*region[:2], nx), pair(*region[2:], ny)]
        value = int(here[1 if left is None else left])
        if value and value == here[0]:
            i, j, a, b = _single(table, bad, region)
            found.append(Cutting(*between.xs[[i, j]].tolist(), *between.ys[[a, b]].tolist()))
        elif value:
            wanted += _parts(table, nx, ny, region, left, value)
    return found


def _single(table: Table, bad: Whole, region: Region) -> Region:
    """The largest cutting of a region, by drawing in whichever side loses nothing."""
    nx, ny = bad.shape
    i, j, a, b = region
    value = table[pair(i, j, nx), pair(a, b, ny), 0]
    while bad[j, b] - bad[i, b] - bad[j, a] + bad[i, a]:
        smaller = [(i + 1, j, a, b), (i, j - 1, a, b), (i, j, a + 1, b), (i, j, a, b - 1)]
        i, j, a, b = next(
            (i, j, a, b) for i, j, a, b in smaller if i < j and a < b and table[pair(i, j, nx), pair(a, b, ny), 0] == value
        )
    return i, j, a, b


def _parts(
    table: Table, nx: int, ny: int, region: Region, left: int | None, value: int
) -> list[tuple[Region, int | None]]:  # fmt: skip
    """Two regions and their shares that make up a value."""
    i, j, a, b = region
    halves = [((i, e, a, b), (e, j, a, b)) for e in range(i + 1, j)] + [((i, j, a, e), (i, j, e, b)) for e in range(a + 1, b)]
    shares: list[tuple[int | None, int | None]] = [(None, None)] if left is None else [(s, left - s) for s in range(1, left)]
    for one, other in halves:
        for s, t in shares:
            parts = [int(table[pair(*r[:2], nx), pair(*r[2:], ny), 1 if k is None else k]) for r, k in ((one, s), (other, t))]
            if sum(parts) == value:
                return [(one, s), (other, t)]
    raise AssertionError("a value of the table has no parts")
