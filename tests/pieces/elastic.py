"""How a flat board warps when no stress-free shape exists, because the pith runs inside: a 2-D linear elastic section.

Plane stress across the grain, orthotropic along and across the rings, circular rings about the pith, shrinkage as a strain
without stress. Nine-node quadrilaterals on a regular grid, nine integration points each. y across the board, z from face B
to face A, origin in the middle of the section. Vocabulary of the arrays: e elements, q integration points, n nodes of an
element (9), k strain components (yy, zz, 2·yz), i displacement components (18 = 9 nodes x 2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.pieces.shrinking import Shrinking

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

_POINTS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)])
_WEIGHTS = np.array([5.0, 8.0, 5.0]) / 9.0
NEAR_PITH_M = 1e-9
"""Nearer than this the direction of the rings has no meaning; any will do, the place has no extent."""


@dataclass(frozen=True)
class Stiffness:
    """Stiffness across the grain over that along the radius: tangential E_T/E_R, shear G_RT/E_R, Poisson's ratio nu_RT.

    Only ratios count for a shape without outside forces. The default is black walnut (source: wood-handbook-elastic): E_R 0.106,
    E_T 0.056, G_RT 0.021 of E_L, nu_RT 0.718, all from memory; docs/methods/pieces.md says how little others differ.
    """

    tangential: float = 0.056 / 0.106
    shear: float = 0.021 / 0.106
    poisson_rt: float = 0.718

    @property
    def matrix(self) -> Array:
        """Stress from strain (R, T, 2·RT) in plane stress, shape (3, 3), radial stiffness 1."""
        coupling = -self.poisson_rt
        compliance = np.array([[1.0, coupling, 0.0], [coupling, 1.0 / self.tangential, 0.0], [0.0, 0.0, 1.0 / self.shear]])
        return np.linalg.inv(compliance)


@dataclass(frozen=True)
class Warp:
    """How far the edges stand above the straight middle [m]: mid-surface and both faces; above zero = hollow side is face A.

    hollow_*: largest distance of the line from the chord between its two edges, with that sign.
    """

    hollow_mid_m: float
    hollow_b_m: float
    hollow_a_m: float


def dried_warp(
    width_m: float,
    thickness_m: float,
    pith_m: tuple[float, float],
    shrinking: Shrinking,
    stiffness: Stiffness | None = None,
    through: int = 8,
) -> Warp:
    """Warp of a flat green board of this width and thickness, dried to the target MC, with the pith at y, z [m].

    through: elements through the thickness; across there are as many as keep them about square (at least eight).
    """
    across = max(8, round(through * width_m / thickness_m))
    mesh = _Mesh(width_m, thickness_m, across, through)
    moved = _displacement(mesh, pith_m, shrinking, stiffness or Stiffness())
    rows = (through, 0, 2 * through)
    return Warp(*(_hollow(mesh, moved, row) for row in rows))


@dataclass(frozen=True)
class _Mesh:
    """A regular grid of elements; nodes lie at their corners, side middles and centres."""

    width: float
    thickness: float
    across: int
    through: int

    @property
    def nodes(self) -> Array:
        """Shape (2·across + 1, 2·through + 1, 2) [m]."""
        y = np.linspace(-self.width / 2, self.width / 2, 2 * self.across + 1)
        z = np.linspace(-self.thickness / 2, self.thickness / 2, 2 * self.through + 1)
        return np.stack(np.meshgrid(y, z, indexing="ij"), axis=-1)

    @property
    def numbers(self) -> Whole:
        """Node numbers of each element, shape (e, 9), y slow and z fast."""
        number = np.arange((2 * self.across + 1) * (2 * self.through + 1)).reshape(2 * self.across + 1, -1)
        corners = number[0:-2:2, 0:-2:2].ravel()
        offsets = (np.arange(3)[:, None] * number.shape[1] + np.arange(3)).ravel()
        return corners[:, None] + offsets

    @property
    def half_sizes(self) -> tuple[float, float]:
        """Half of an element's width and height [m]."""
        return self.width / (2 * self.across), self.thickness / (2 * self.through)


def _quadratic(t: Array) -> tuple[Array, Array]:
    """Three quadratic shape functions on -1..1 and their slopes, each shape (3, len(t))."""
    return np.stack([t * (t - 1) / 2, 1 - t**2, t * (t + 1) / 2]), np.stack([t - 0.5, -2 * t, t + 0.5])


def _shapes(mesh: _Mesh) -> tuple[Array, Array]:
    """Shape functions (q, n) and strain of displacement (q, k, i), the same for every element."""
    value, slope = _quadratic(_POINTS)
    hy, hz = mesh.half_sizes
    shape = np.einsum("ap,bq->pqab", value, value).reshape(9, 9)
    along_y = np.einsum("ap,bq->pqab", slope, value).reshape(9, 9) / hy
    along_z = np.einsum("ap,bq->pqab", value, slope).reshape(9, 9) / hz
    strain = np.zeros((9, 3, 9, 2))
    strain[:, 0, :, 0], strain[:, 1, :, 1] = along_y, along_z
    strain[:, 2, :, 0], strain[:, 2, :, 1] = along_z, along_y
    return shape, strain.reshape(9, 3, 18)


def _displacement(mesh: _Mesh, pith: tuple[float, float], shrinking: Shrinking, stiffness: Stiffness) -> Array:
    """Displacement of every node, shape of `mesh.nodes` [m]; the middle node stays and the next one keeps its height."""
    shape, strain = _shapes(mesh)
    numbers = mesh.numbers
    nodes = mesh.nodes.reshape(-1, 2)
    places = np.einsum("qn,enc->eqc", shape, nodes[numbers])
    to_rings = _into_ring_axes(places - np.array(pith))
    law = np.einsum("eqak,ab,eqbl->eqkl", to_rings, stiffness.matrix, to_rings)
    shrunk = -shrinking.dryness * np.array([shrinking.radial, shrinking.tangential, 0.0])
    pull = np.einsum("eqak,ab,b->eqk", to_rings, stiffness.matrix, shrunk)
    weight = np.outer(_WEIGHTS, _WEIGHTS).ravel() * mesh.half_sizes[0] * mesh.half_sizes[1]
    stiff = np.einsum("q,qki,eqkl,qlj->eij", weight, strain, law, strain, optimize=True)
    force = np.einsum("q,qki,eqk->ei", weight, strain, pull, optimize=True)
    freedoms = (2 * numbers[:, :, None] + np.arange(2)).reshape(len(numbers), 18)
    return _solved(stiff, force, freedoms, _held(mesh), 2 * len(nodes)).reshape(mesh.nodes.shape)


def _into_ring_axes(from_pith: Array) -> Array:
    """Strain (yy, zz, 2·yz) into (R, T, 2·RT) at each place, shape (..., 3, 3)."""
    distance = np.linalg.norm(from_pith, axis=-1)
    away = distance > NEAR_PITH_M
    c = np.where(away, from_pith[..., 0] / np.maximum(distance, NEAR_PITH_M), 1.0)
    s = np.where(away, from_pith[..., 1] / np.maximum(distance, NEAR_PITH_M), 0.0)
    rows = [[c * c, s * s, c * s], [s * s, c * c, -c * s], [-2 * c * s, 2 * c * s, c * c - s * s]]
    return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)


def _held(mesh: _Mesh) -> Whole:
    """Three freedoms that keep the section from floating away: both of the middle node, the height of its neighbour."""
    middle = mesh.across * (2 * mesh.through + 1) + mesh.through
    neighbour = middle + 2 * mesh.through + 1
    return np.array([2 * middle, 2 * middle + 1, 2 * neighbour + 1])


def _solved(stiff: Array, force: Array, freedoms: Whole, held: Whole, count: int) -> Array:
    """Sum the elements up and solve for all displacements but those held at zero."""
    # here, because few pieces hold the pith and loading these takes longer than most of a plan
    from scipy.sparse import coo_matrix
    from scipy.sparse.linalg import spsolve

    rows = np.repeat(freedoms, 18, axis=1).ravel()
    columns = np.tile(freedoms, (1, 18)).ravel()
    whole = coo_matrix((stiff.ravel(), (rows, columns)), shape=(count, count)).tocsc()
    load = np.bincount(freedoms.ravel(), weights=force.ravel(), minlength=count)
    free = np.setdiff1d(np.arange(count), held)
    moved = np.zeros(count)
    moved[free] = spsolve(whole[free][:, free], load[free])
    return moved


def _hollow(mesh: _Mesh, moved: Array, row: int) -> float:
    """Largest distance of a row of nodes, once level, from the chord between its ends; above zero where the ends stand higher."""
    y = mesh.nodes[:, row, 0] + moved[:, row, 0]
    z = moved[:, row, 1]
    chord = z[0] + (z[-1] - z[0]) * (y - y[0]) / (y[-1] - y[0])
    below = chord - z
    return float(below[np.argmax(np.abs(below))])
