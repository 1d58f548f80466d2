"""Synthetic photos of a live-edge piece with printed targets: pinhole, lens and grey values, apart from the product's own."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

Array = NDArray[np.float64]

SIZE = (4000, 3000)
PITCH, RADIUS = 0.075, 0.015
"""The printed sheet as its paper says: twelve marks 75 mm apart, three across and four along, each 30 mm wide."""


@dataclass(frozen=True)
class Scene:
    """edge_m: the truth; edge_px: tapped; marks_px: one array (12, 2) for each target, as the lens shows them."""

    edge_m: Array
    edge_px: Array
    marks_px: tuple[Array, ...]
    spots_m: tuple[tuple[Array, float], ...]
    focal: float
    k1: float
    turn: Array
    shift: Array
    lower: float

    @property
    def area(self) -> float:
        x, y = self.edge_m.T
        return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2

    def shown(self, points: Array) -> Array:
        """Pixels of points (n, 3)."""
        x, y, z = self.turn @ points.T + self.shift[:, None]
        r2 = (x / z) ** 2 + (y / z) ** 2
        bend = self.focal * (1 + self.k1 * r2)
        return np.column_stack([SIZE[0] / 2 + bend * x / z, SIZE[1] / 2 + bend * y / z])

    def grey(self, rng: np.random.Generator) -> NDArray[np.uint8]:
        """The picture, drawn round the marks only: white paper, black quarters, blurred by the pixel, noise of four steps."""
        picture = np.full((SIZE[1], SIZE[0]), 215, np.uint8)
        for marks, (middle, angle) in zip(self.marks_px, self.spots_m, strict=True):
            for at, place in zip(marks, sheet_marks(), strict=True):
                column, row = np.rint(at).astype(int)
                if 30 < column < SIZE[0] - 30 and 30 < row < SIZE[1] - 30:
                    patch = self._patch(column, row, laid(place[None], middle, angle)[0], angle)
                    noisy = np.clip(patch + rng.normal(0, 4, patch.shape), 0, 255)
                    picture[row - 24 : row + 25, column - 24 : column + 25] = noisy.astype(np.uint8)
        return picture

    def _patch(self, column: int, row: int, place: Array, angle: float, half: int = 24, fine: int = 2) -> Array:
        """Grey of a square of pixels, each the mean of some points in it; the view of a mark is taken as straight."""
        here = np.array([*place, -self.lower]) + 1e-4 * np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0]])
        seen = self.shown(here)
        back = np.linalg.inv(((seen[1:] - seen[0]) / 1e-4).T)
        steps = (np.arange((2 * half + 1) * fine) + 0.5) / fine - half - 0.5
        v, u = np.meshgrid(row + steps, column + steps, indexing="ij")
        x, y = back @ np.stack([u.ravel() - seen[0, 0], v.ravel() - seen[0, 1]])
        along, across = x * np.cos(angle) + y * np.sin(angle), -x * np.sin(angle) + y * np.cos(angle)
        black = (along * across > 0) & (np.hypot(x, y) < RADIUS)
        shape = (2 * half + 1, fine, 2 * half + 1, fine)
        found: Array = np.where(black, 35.0, 215.0).reshape(shape).mean(axis=(1, 3))
        return found


def sheet_marks() -> Array:
    """Marks 1 to 12 on the sheet, as one reads, y upwards."""
    return np.array([(PITCH * column, PITCH * (3 - row)) for row in range(4) for column in range(3)])


def laid(points: Array, middle: Array, angle: float) -> Array:
    """Points of the sheet where it lies, its own middle on `middle`."""
    c, s = np.cos(angle), np.sin(angle)
    found: Array = (points - [PITCH, 1.5 * PITCH]) @ np.array([[c, s], [-s, c]]) + middle
    return found


def scene(seed: int, spots: tuple[float, ...] = (0.12, 0.88), *, lower: float = 0.0, tapping: float = 3.0) -> Scene:
    """A phone over a piece 1 to 2.6 m long, a little askew; targets at shares of its length, `lower` than its face."""
    rng = np.random.default_rng(seed)
    long, wide = rng.uniform(1.0, 2.6), rng.uniform(0.35, 0.6)
    x = np.linspace(0, long, 50)
    left, right = (wide / 2 + sum(rng.normal(0, 0.015) * np.sin(k * x + rng.uniform(0, 6)) for k in (1, 2, 5)) for _ in "lr")
    edge = np.vstack([np.column_stack([x, -right]), np.column_stack([x, left])[::-1]])
    focal, k1 = rng.uniform(0.68, 0.83) * SIZE[0], rng.uniform(-0.15, 0.05)
    askew = Rotation.from_rotvec([*rng.normal(0, 0.12, 2), rng.normal(0, 0.1)])
    turn = (askew * Rotation.from_euler("x", 180, degrees=True)).as_matrix()
    far = focal * long / (rng.uniform(0.7, 0.85) * SIZE[0])
    shift = np.array([*rng.normal(0, 0.03, 2), far]) - turn @ [long / 2, 0, 0]
    places = tuple((np.array([share * long, rng.normal(0, 0.02)]), float(rng.uniform(0, 2 * np.pi))) for share in spots)
    bare = Scene(edge, edge, (), places, focal, k1, turn, shift, lower)
    on_sheets = [np.column_stack([laid(sheet_marks(), *place), np.full(12, -lower)]) for place in places]
    taps = bare.shown(np.column_stack([edge, np.zeros(len(edge))])) + rng.normal(0, tapping, edge.shape)
    return Scene(edge, taps, tuple(map(bare.shown, on_sheets)), places, focal, k1, turn, shift, lower)
