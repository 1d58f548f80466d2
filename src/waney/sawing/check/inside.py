"""What lies inside the wood, seen in a lie: pith lines, and rods of metal, rot and the like."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import Zone

Array = NDArray[np.float64]

FAR_M = 10.0
"""how far a pith line is drawn on beyond its own ends, straight along z"""


def piths_at(rings: RingField, lie: Placing, w: Array) -> Array:
    """u, v of every pith where it passes the planes w (W,): shape (k, W, 2) [m]."""
    z = np.concatenate([[rings.z_m[0] - FAR_M], rings.z_m, [rings.z_m[-1] + FAR_M]])
    found = []
    for line in rings.pith_m:
        drawn_on = np.vstack([line[:1], line, line[-1:]])
        u, v, along = lie.there(np.column_stack([drawn_on, z])).T
        found.append(np.column_stack([np.interp(w, along, u), np.interp(w, along, v)]))
    return np.array(found)


@dataclass(frozen=True, eq=False)
class Rod:
    """A zone in a lie: the straight axis from `start` to `end` (3,) in (u, v, w), rising in w."""

    kind: Hidden
    start: Array
    end: Array
    radius_m: float
    chance: float
    note: str

    def centre(self, w: float) -> tuple[float, float]:
        """u, v of the axis, drawn out as a straight line, at w [m]."""
        run = self.end[2] - self.start[2]
        share = (w - self.start[2]) / run if run > 0 else 0.0
        at = self.start + share * (self.end - self.start)
        return float(at[0]), float(at[1])

    def counts_at(self, w: Array) -> frozenset[int]:
        """Stations inside its run, and both around each end when it is shorter than their spacing."""
        spacing = float(w[1] - w[0])
        inside = {i for i in range(len(w)) if self.start[2] <= w[i] <= self.end[2]}
        if self.end[2] - self.start[2] < spacing:
            places = [(float(end[2]) - float(w[0])) / spacing for end in (self.start, self.end)]
            inside |= {i for at in places for i in (floor(at), ceil(at)) if 0 <= i < len(w)}
        return frozenset(inside)


def rod_of(zone: Zone, lie: Placing) -> Rod:
    """A zone of the shape, seen in a lie."""
    ends = lie.there(np.array([[zone.x_m, zone.y_m, zone.from_m], [zone.x_m, zone.y_m, zone.to_m]]))
    return Rod(zone.kind, ends[0], ends[1], zone.radius_m, zone.chance, zone.note)


def half_width(radius_m: float, height_m: float, lower_m: float, upper_m: float) -> float | None:
    """Half of the u that a circle at this height takes from a slice between two faces; None when it stays clear [m]."""
    gap = max(lower_m - height_m, height_m - upper_m, 0.0)
    return sqrt(radius_m**2 - gap**2) if gap < radius_m else None
