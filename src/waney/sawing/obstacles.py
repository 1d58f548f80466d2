"""Obstacles: zones and piths as rods along the bed, station by station, in the saw frame."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.rings import UNDEFINED_WITHIN_M
from waney.logs.shape import LogShape, Zone
from waney.sawing.kernel.records import PITH_BIT, Obstacles
from waney.sawing.orders import kind_bit

Array = NDArray[np.float64]

BEYOND_M = 10.0
"""How far a pith is drawn on: further than any station lies from it along the log."""


def obstacles_of(shape: LogShape, to_saw: Placing, w: Array) -> Obstacles:
    """All piths and zones of a log as it lies, at stations w (W,)."""
    rings = shape.rings
    piths = [_along(_drawn_on(pith, rings.z_m), to_saw, w) for pith in rings.pith_m]
    rods = [_along(_axis(zone), to_saw, w) for zone in shape.zones]
    felt = [_felt(_axis(zone), to_saw, w) for zone in shape.zones]
    centres = np.array(piths + rods).reshape(-1, len(w), 2)
    k, last = len(piths), len(w) - 1
    return Obstacles(
        u=centres[:, :, 0].copy(),
        v=centres[:, :, 1].copy(),
        radius=np.array([UNDEFINED_WITHIN_M] * k + [zone.radius_m for zone in shape.zones]),
        first=np.array([0] * k + [a for a, _ in felt], np.int64),
        last=np.array([last] * k + [b for _, b in felt], np.int64),
        kind=np.array([PITH_BIT] * k + [kind_bit(zone.kind) for zone in shape.zones], np.int64),
        chance=np.array([1.0] * k + [zone.chance for zone in shape.zones]),
        piths=k,
    )


def _axis(zone: Zone) -> Array:
    return np.array([[zone.x_m, zone.y_m, zone.from_m], [zone.x_m, zone.y_m, zone.to_m]])


def _drawn_on(pith: Array, z: Array) -> Array:
    """A pith as a polyline (n + 2, 3), beyond its ends straight along z as the rings are; a flitch may lie that far off it."""
    ends = np.concatenate([[z[0] - BEYOND_M], z, [z[-1] + BEYOND_M]])
    return np.column_stack([np.vstack([pith[:1], pith, pith[-1:]]), ends])


def _along(line: Array, to_saw: Placing, w: Array) -> Array:
    """u, v (W, 2) of a polyline (n, 3) of the log frame at stations w, its end pieces carried on straight."""
    points = to_saw.there(line)
    i = np.clip(np.searchsorted(points[:, 2], w) - 1, 0, len(points) - 2)
    a, b = points[i], points[i + 1]
    rise = b[:, 2] - a[:, 2]
    t = (w - a[:, 2]) / np.where(np.abs(rise) < 1e-12, 1.0, rise)
    at: Array = a[:, :2] + t[:, None] * (b[:, :2] - a[:, :2])
    return at


def _felt(axis: Array, to_saw: Placing, w: Array) -> tuple[int, int]:
    """First and last station that a zone is felt at; a zone shorter than the spacing is felt at the stations around its ends."""
    start, end = sorted(to_saw.there(axis)[:, 2])
    short = end - start < w[1] - w[0]
    first = np.searchsorted(w, start, "right") - 1 if short else np.searchsorted(w, start, "left")
    last = np.searchsorted(w, end, "left") if short else np.searchsorted(w, end, "right") - 1
    return max(int(first), 0), min(int(last), len(w) - 1)
