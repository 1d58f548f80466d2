"""How a log lies in a scan of which nobody told it: from the points alone, where the scan shows the log and nothing else.

The longest axis of the points is the log's line; its thicker end is the butt; what is up in the scan is 12 o'clock.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from waney.logs.scan import FEWEST_POINTS, BadScan, Point3, Pose

Array = NDArray[np.float64]

ENOUGH = 20_000
"""points that say where the axis lies"""
LONGER = 1.3
"""A log is longer than it is thick by at least this; shorter ones lie as somebody says. Our choice."""
STRAY = 0.002
"""share of the points at either end that may be strays of the scanner"""
AT_END = 0.1
"""share of the length in which the thickness of an end is looked for"""


class Up(StrEnum):
    """The axis of the scan that points up: y for most phones, z for most scanners."""

    Y = "y"
    Z = "z"


UP = {Up.Y: np.array([0.0, 1.0, 0.0]), Up.Z: np.array([0.0, 0.0, 1.0])}


def found_pose(points_m: Array, up: Up) -> Pose:
    """How a log lies, from (N, 3) points of it and nothing else [m]. Raises BadScan for what is no log lying down.

    The middles are those of the box about the points near each end, so that a side that was not scanned hardly moves them.
    """
    some = points_m[np.isfinite(points_m).all(axis=1)]
    if len(some) < FEWEST_POINTS:
        raise BadScan(f"The scan holds {len(some)} points, and {FEWEST_POINTS} are needed.")
    some = some[:: -(-len(some) // ENOUGH)]
    middle = some.mean(axis=0)
    axes = np.linalg.svd(some - middle, full_matrices=False)[2]
    here = (some - middle) @ axes.T
    low, high = np.quantile(here, [STRAY, 1.0 - STRAY], axis=0)
    long, wide, thick = high - low
    if not long > LONGER * max(wide, thick):
        raise BadScan("The scan is hardly longer than it is wide: cut away what is not the log, or write where its ends lie.")
    if abs(axes[0] @ UP[up]) > 0.9:
        raise BadScan(f"The log would stand on end with {up} up; choose the other way, or write where its ends lie.")
    ends = [_end(here, at, (high - low)[0]) for at in (low[0], high[0])]
    (butt, _), (top, _) = sorted(ends, key=lambda end: -end[1])
    return Pose(_point(middle + butt @ axes), _point(middle + top @ axes), _point(UP[up]))


def place_of_mark(pose: Pose) -> Point3:
    """A point towards the mark from the log's middle, as a sheet tells it [m]."""
    ends = np.array([pose.butt_m, pose.top_m])
    return _point(ends.mean(axis=0) + np.array(pose.mark))


def _end(here: Array, at: float, long: float) -> tuple[Array, float]:
    """The middle of an end, along the axes, and how thick the log is there [m]."""
    near = here[np.abs(here[:, 0] - at) <= AT_END * long]
    low, high = np.quantile(near[:, 1:], [STRAY, 1.0 - STRAY], axis=0)
    return np.array([at, *((low + high) / 2.0)]), float((high - low).sum())


def _point(at: Array) -> Point3:
    x, y, z = at
    return float(x), float(y), float(z)
