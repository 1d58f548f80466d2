"""Flattening: the two parallel planes that leave the most thickness, from heights of both faces on a grid.

A linear programme in four unknowns: the lower plane z = a + b x + c y and the thickness t above it. Both planes run through
wood at every point of the grid; between points nothing is known, so points lie closer where the piece is more crooked.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from waney.figures.problem import Problem

Array = NDArray[np.float64]


class BadHeights(Problem):
    """Heights that do not fit together."""


class NothingLeft(Problem):
    """No plane runs through wood everywhere."""


@dataclass(frozen=True, eq=False)
class Heights:
    """x_m (n,) along, y_m (k,) across, both rising; under_m, upper_m (n, k): heights of both faces over one level bench [m],
    nan where the piece has no wood."""

    x_m: Array
    y_m: Array
    under_m: Array
    upper_m: Array

    def __post_init__(self) -> None:
        shape = (len(self.x_m), len(self.y_m))
        if self.under_m.shape != shape or self.upper_m.shape != shape or min(shape) < 2:
            raise BadHeights(f"Heights need {shape[0]} rows of {shape[1]}, for both faces alike, two by two at least.")
        if (np.diff(self.x_m) <= 0).any() or (np.diff(self.y_m) <= 0).any():
            raise BadHeights("Places along and across rise from one to the next.")
        if np.count_nonzero(self.wood) < 3:
            raise BadHeights("Three points of wood at least carry a plane; read more heights.")
        if (self.upper_m[self.wood] <= self.under_m[self.wood]).any():
            raise BadHeights("The upper face lies under the lower one somewhere; look at that reading.")

    @property
    def wood(self) -> NDArray[np.bool_]:
        """Where both heights are known."""
        return np.isfinite(self.under_m) & np.isfinite(self.upper_m)

    @property
    def points(self) -> Array:
        """x, y, under, upper of every point of wood, (m, 4)."""
        x, y = np.meshgrid(self.x_m, self.y_m, indexing="ij")
        return np.column_stack([grid[self.wood] for grid in (x, y, self.under_m, self.upper_m)])

    def part(self, along: slice, across: slice) -> Heights:
        """Some of its rows and columns. Raises BadHeights where no three points of wood are left."""
        return Heights(self.x_m[along], self.y_m[across], self.under_m[along, across], self.upper_m[along, across])


@dataclass(frozen=True)
class Flattened:
    """The lower plane z = at_m + slope_x·x + slope_y·y, the thickness above it, and what comes off each face on average [m]."""

    at_m: float
    slope_x: float
    slope_y: float
    thickness_m: float
    off_under_m: float
    off_upper_m: float

    @property
    def off_m(self) -> float:
        """Off both faces together, on average."""
        return self.off_under_m + self.off_upper_m


def flattened(heights: Heights, *, equally: bool = False) -> Flattened:
    """The planes that leave the most. equally: the same mean comes off both faces, so that the dried-in balance stays.

    Raises NothingLeft.
    """
    x, y, under, upper = heights.points.T
    one = np.ones_like(x)
    lower_side = np.column_stack([-one, -x, -y, np.zeros_like(x)])
    upper_side = np.column_stack([one, x, y, one])
    mean = [2.0, 2.0 * x.mean(), 2.0 * y.mean(), 1.0]
    found = linprog(
        [0.0, 0.0, 0.0, -1.0],
        A_ub=np.vstack([lower_side, upper_side]),
        b_ub=np.concatenate([-under, upper]),
        A_eq=[mean] if equally else None,
        b_eq=[under.mean() + upper.mean()] if equally else None,
        bounds=[(None, None)] * 3 + [(0.0, None)],
        method="highs",
    )
    if found.x is None or found.x[3] <= 0.0:
        raise NothingLeft("No flat piece is left in it, however it is laid; cut it in two first, or flatten only a part.")
    a, b, c, t = map(float, found.x)
    plane = a + b * x + c * y
    return Flattened(a, b, c, t, float(np.mean(plane - under)), float(np.mean(upper - plane)) - t)


@dataclass(frozen=True)
class Warped:
    """Read from the mid-surface [m]; rough: what is left beside them (root mean square).

    bow, cup: how far the middle of its length, of its width stands off the straight, above zero: hollow above; wind: one corner
    off the plane of the other three.
    """

    bow_m: float
    cup_m: float
    wind_m: float
    rough_m: float


def warped(heights: Heights) -> Warped:
    """By the least-squares surface of second degree. Raises BadHeights with less than three rows of three."""
    x, y, under, upper = heights.points.T
    if len(x) < 6 or min(len(heights.x_m), len(heights.y_m)) < 3:
        raise BadHeights("Wind, cup and bow want three rows of three heights at least.")
    long, wide = np.ptp(heights.x_m), np.ptp(heights.y_m)
    u, v = (x - heights.x_m.mean()) / long, (y - heights.y_m.mean()) / wide
    terms = np.column_stack([np.ones_like(u), u, v, u**2, u * v, v**2])
    middle = (under + upper) / 2.0
    fit, *_ = np.linalg.lstsq(terms, middle, rcond=None)
    rough = float(np.sqrt(np.mean((terms @ fit - middle) ** 2)))
    return Warped(float(fit[3]) / 4.0, float(fit[5]) / 4.0, float(fit[4]), rough)


@dataclass(frozen=True)
class Halves:
    """Cut in two at a line of the grid, each half flattened for itself; across: the cut runs across the piece, at_m along it."""

    across: bool
    at_m: float
    parts: tuple[Flattened, Flattened]

    @property
    def thickness_m(self) -> float:
        """What both halves can be planed to."""
        return min(part.thickness_m for part in self.parts)


def best_halves(heights: Heights, *, across: bool, equally: bool = False) -> Halves | None:
    """The cut, across or along, that keeps the most thickness in the thinner half; None: no line leaves two rows on both sides.

    What a saw takes of length or width is not counted; the points on the line belong to both halves.
    """
    every = slice(None)
    line = heights.x_m if across else heights.y_m
    found = []
    for k in range(1, len(line) - 1):
        cuts = (slice(0, k + 1), slice(k, None))
        try:
            parts = [heights.part(cut, every) if across else heights.part(every, cut) for cut in cuts]
            found.append(
                Halves(across, float(line[k]), (flattened(parts[0], equally=equally), flattened(parts[1], equally=equally)))
            )
        except (BadHeights, NothingLeft):
            continue
    return max(found, key=lambda halves: halves.thickness_m, default=None)
