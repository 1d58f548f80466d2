"""What is left of a log after some cuts: the shape and the sawn planes that bound it, all in the log frame."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.shape import LogShape
from waney.sawing.check import polygon

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Plane:
    """A sawn plane: the wood that stays has outward·point <= reach."""

    outward: Array
    """unit vector (3,)"""
    reach: float

    def seen_from(self, lie: Placing) -> Plane:
        """The same plane in the frame of a lie."""
        outward: Array = np.array(lie.turn) @ self.outward
        return Plane(outward, self.reach + float(outward @ np.array(lie.shift)))


def upper_face(lie: Placing, height_m: float) -> Plane:
    """The plane that a pass leaves on the wood below it, log frame."""
    up = np.array(lie.turn)[1]
    return Plane(up, height_m - lie.shift[1])


@dataclass(frozen=True, eq=False)
class Left:
    """The log, bounded by the planes sawn so far."""

    shape: LogShape
    planes: tuple[Plane, ...] = ()

    def after(self, plane: Plane) -> Left:
        """What is left after one more cut."""
        return Left(self.shape, (*self.planes, plane))

    @cached_property
    def outlines(self) -> tuple[Array, ...]:
        """Outer outlines (k, 3), bark included, at the shape's own stations, cut off by the planes; empty ones too."""
        return tuple(self._outline(points) for points in self.shape.surface(bark=True))

    def _outline(self, points: Array) -> Array:
        z, flat = float(points[0, 2]), points[:, :2]
        for plane in self.planes:
            if len(flat):
                x, y, up = (float(c) for c in plane.outward)
                flat = polygon.cut_off(flat, (x, y), plane.reach - up * z)
        return np.column_stack([flat, np.full(len(flat), z)])

    def volume_and_centre_z(self) -> tuple[float, float]:
        """Volume [m3] and z of the centre of mass [m]: areas of the outlines, linear between stations."""
        z = self.shape.z_m
        a = np.array([polygon.area(outline[:, :2]) for outline in self.outlines])
        step = np.diff(z)
        volume = float(np.sum(step * (a[:-1] + a[1:]) / 2))
        moment = float(np.sum(step * (z[:-1] * (2 * a[:-1] + a[1:]) + z[1:] * (a[:-1] + 2 * a[1:])) / 6))
        return volume, moment / volume if volume > 0 else float(z[-1]) / 2
