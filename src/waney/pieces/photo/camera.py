"""Camera: a pinhole with square pixels, its axis through the middle of the picture, and one lens term.

World: x and y on the target's plane, z up from it towards the camera [m]. Picture: pixels, u to the right, v down.
A ray at radius r (in focal lengths from the middle) is seen at r · (1 + k1 r²): Brown (1966, memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

Array = NDArray[np.float64]
NEWTON = 12
"""Steps that undo the lens; it converges within half of them."""


@dataclass(frozen=True, eq=False)
class Camera:
    """size_px: width, height; focal_px; k1; turn (3,): rotation vector world to camera; shift_m (3,): world origin seen by it."""

    size_px: tuple[int, int]
    focal_px: float
    k1: float
    turn: Array
    shift_m: Array

    @property
    def _middle(self) -> Array:
        return np.array(self.size_px) / 2.0

    @property
    def place_m(self) -> Array:
        """Where the camera is, (3,)."""
        place: Array = -Rotation.from_rotvec(self.turn).as_matrix().T @ self.shift_m
        return place

    def seen(self, points_m: Array) -> Array:
        """Pixels (n, 2) of points (n, 2) on the plane, or (n, 3)."""
        flat = points_m.shape[1] == 2
        world = np.column_stack([points_m, np.zeros(len(points_m))]) if flat else points_m
        ahead = world @ Rotation.from_rotvec(self.turn).as_matrix().T + self.shift_m
        ray = ahead[:, :2] / ahead[:, 2:]
        bent: Array = ray * (1.0 + self.k1 * np.sum(ray**2, axis=1, keepdims=True))
        return self._middle + self.focal_px * bent

    def on_plane(self, pixels: Array, height_m: float = 0.0) -> Array:
        """Where the rays of pixels (n, 2) meet the plane at a height over the target: (n, 2) [m]."""
        ray = self._straight((pixels - self._middle) / self.focal_px)
        matrix = Rotation.from_rotvec(self.turn).as_matrix()
        way = np.column_stack([ray, np.ones(len(ray))]) @ matrix
        place = self.place_m
        share = (height_m - place[2]) / way[:, 2]
        met: Array = place[:2] + share[:, None] * way[:, :2]
        return met

    def _straight(self, bent: Array) -> Array:
        """Rays as they were before the lens."""
        wanted = np.hypot(*bent.T)
        radius = wanted.copy()
        for _ in range(NEWTON):
            slope = np.maximum(1.0 + 3.0 * self.k1 * radius**2, 0.05)
            radius -= (radius * (1.0 + self.k1 * radius**2) - wanted) / slope
        straight: Array = bent * np.where(wanted > 0.0, radius / np.maximum(wanted, 1e-12), 1.0)[:, None]
        return straight


def first_guess(size_px: tuple[int, int], focal_px: float, marks_m: Array, taps_px: Array) -> Camera:
    """From four marks or more of one target and an assumed focal length, no lens: the plane's homography taken apart."""
    rays = (taps_px - np.array(size_px) / 2.0) / focal_px
    x, y = marks_m.T
    u, v = rays.T
    one, none = np.ones_like(x), np.zeros_like(x)
    rows_u = np.column_stack([x, y, one, none, none, none, -u * x, -u * y, -u])
    rows_v = np.column_stack([none, none, none, x, y, one, -v * x, -v * y, -v])
    matrix = np.linalg.svd(np.vstack([rows_u, rows_v]))[2][-1].reshape(3, 3)
    matrix = matrix / np.sqrt(np.linalg.norm(matrix[:, 0]) * np.linalg.norm(matrix[:, 1]))
    matrix = matrix * (1.0 if matrix[2, 2] > 0.0 else -1.0)
    first, second, shift = matrix.T
    left, _, right = np.linalg.svd(np.column_stack([first, second, np.cross(first, second)]))
    turn = Rotation.from_matrix(left @ np.diag([1.0, 1.0, np.linalg.det(left @ right)]) @ right)
    return Camera(size_px, focal_px, 0.0, turn.as_rotvec(), shift)
