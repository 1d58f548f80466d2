"""LogShape: a log's three-dimensional shape, as outlines at stations, whatever it was measured with.

The wood's surface at station i in direction j is the point centre[i] + radius[i, j]·(cos a, sin a) at height z[i], the angle a
measured in the log frame from x towards y: 2 pi j / m, or angle[i, j] where an outline has corners to hit. Between stations
the m points are joined by straight lines along the log: line j from station i to i + 1. A cross-section anywhere is the
polygon of the m points where those lines meet the section's plane. That is the definition; every reader (optimiser, checker,
drawing) starts from it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.measured import Hidden
from waney.logs.rings import RingField

Array = NDArray[np.float64]


class BadShape(Problem):
    """The arrays of a shape do not fit together."""


@dataclass(frozen=True)
class Zone:
    """Metal, rot, hollow or the like: the cylinder of `radius_m` about (x_m, y_m), from z = from_m to to_m, log frame."""

    kind: Hidden
    from_m: float
    to_m: float
    x_m: float
    y_m: float
    radius_m: float
    chance: float = 1.0
    note: str = ""


@dataclass(frozen=True, eq=False)
class LogShape:
    """Outlines inside bark at n stations in m directions, bark on top, rings and zones inside. Metres, log frame.

    z_m (n,) rises from 0 to the length; centre_m (n, 2); radius_m (n, m) > 0 inside bark; bark_m (n, m) >= 0 added
    outside in the same direction. ringed: the ring field, or what works it out when somebody asks for `rings` (volume and weight
    never do). angle_rad (n, m): the directions, never falling, once round; None: m even ones from x on.
    Raises BadShape when the arrays do not fit.
    """

    z_m: Array
    centre_m: Array
    radius_m: Array
    bark_m: Array
    ringed: RingField | Callable[[], RingField]
    zones: tuple[Zone, ...] = field(default=())
    angle_rad: Array | None = None

    def __post_init__(self) -> None:
        n, m = self.radius_m.shape
        fits = self.z_m.shape == (n,) and self.centre_m.shape == (n, 2) and self.bark_m.shape == (n, m)
        if not fits or n < 2 or m < 8:
            raise BadShape("A shape needs at least two stations, eight directions, and arrays of matching size.")
        if self.z_m[0] != 0.0 or not bool(np.all(np.diff(self.z_m) > 0)):
            raise BadShape("Stations must start at the butt (0) and rise towards the top.")
        if not bool(np.all(self.radius_m > 0)) or not bool(np.all(self.bark_m >= 0)):
            raise BadShape("Every radius must be above zero and no bark thickness below zero.")
        if self.angle_rad is not None:
            _check_angles(self.angle_rad, (n, m))
        for array in (self.z_m, self.centre_m, self.radius_m, self.bark_m):
            array.setflags(write=False)

    @cached_property
    def rings(self) -> RingField:
        """Where its growth rings run."""
        return self.ringed if isinstance(self.ringed, RingField) else self.ringed()

    @property
    def length_m(self) -> float:
        """From butt to top [m]."""
        return float(self.z_m[-1])

    @property
    def directions(self) -> int:
        """m, the number of points on every outline."""
        return int(self.radius_m.shape[1])

    def surface(self, *, bark: bool) -> Array:
        """All outline points, shape (n, m, 3), log frame [m]; with or without bark. Not to be written to."""
        return self._outer if bark else self._wood

    @cached_property
    def _wood(self) -> Array:
        return self._points(self.radius_m)

    @cached_property
    def _outer(self) -> Array:
        return self._points(self.radius_m + self.bark_m)

    def _points(self, reach: Array) -> Array:
        n, m = reach.shape
        angle = 2.0 * np.pi * np.arange(m) / m if self.angle_rad is None else self.angle_rad
        points = np.empty((n, m, 3))
        points[:, :, 0] = self.centre_m[:, None, 0] + reach * np.cos(angle)
        points[:, :, 1] = self.centre_m[:, None, 1] + reach * np.sin(angle)
        points[:, :, 2] = self.z_m[:, None]
        points.setflags(write=False)
        return points


def _check_angles(angle_rad: Array, size: tuple[int, int]) -> None:
    if angle_rad.shape != size:
        raise BadShape("A shape needs a direction for every radius, or none at all.")
    once_round = bool(np.all(angle_rad[:, -1] - angle_rad[:, 0] <= 2.0 * np.pi + 1e-9))
    if not once_round or not bool(np.all(np.diff(angle_rad, axis=1) >= 0.0)):
        raise BadShape("The directions of an outline go once round and never back.")
    angle_rad.setflags(write=False)
