"""A mesh of a log: triangles become points, close enough that the sheet of `logs.unrolled` cannot tell the difference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from waney.logs.measured import Inside
from waney.logs.scan import Pose, Scan, scan_of

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

APART_M = 0.012
"""Points on a triangle lie at most about this far apart."""
FINEST = 60
"""No edge is cut into more parts than this, so that long thin triangles do not become millions of points."""


def _no_faces() -> Whole:
    return np.zeros((0, 3), dtype=np.int64)


@dataclass(frozen=True, eq=False)
class Mesh:
    """Points (N, 3) [m, or the file's unit while it is read] and triangles (F, 3) as numbers of points; without faces a cloud."""

    points_m: Array
    faces: Whole = field(default_factory=_no_faces)


def fan(corners: Sequence[int]) -> list[tuple[int, int, int]]:
    """A face of three or more corners as triangles about its first."""
    return [(corners[0], a, b) for a, b in pairwise(corners[1:])]


def scan_of_mesh(mesh: Mesh, pose: Pose, over: Inside = Inside.BARK) -> Scan:
    """As `scan_of`, for a mesh or a cloud; closed ends do no harm. Raises BadScan."""
    return scan_of(mesh.points_m if len(mesh.faces) == 0 else sampled(mesh), pose, over)


def sampled(mesh: Mesh) -> Array:
    """Points spread evenly over all triangles, shape (N, 3) [m]: the middles of the small triangles each is cut into."""
    corners = mesh.points_m[mesh.faces]
    edges = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).max(axis=1)
    parts = np.clip(np.ceil(edges / APART_M), 1, FINEST).astype(np.int64)
    return np.concatenate([_middles(corners[parts == k], int(k)) for k in np.unique(parts)])


def _middles(corners: Array, parts: int) -> Array:
    """Middles of the parts^2 small triangles in each of these triangles (F, 3, 3)."""
    i, j = (grid.ravel() for grid in np.meshgrid(np.arange(parts), np.arange(parts), indexing="ij"))
    upright, turned = i + j < parts, i + j < parts - 1
    a = np.concatenate([i[upright] + 1 / 3, i[turned] + 2 / 3]) / parts
    b = np.concatenate([j[upright] + 1 / 3, j[turned] + 2 / 3]) / parts
    weights = np.stack([1.0 - a - b, a, b], axis=1)
    points: Array = np.einsum("pk,fkd->fpd", weights, corners).reshape(-1, 3)
    return points
