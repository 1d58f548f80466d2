"""A stem's surface unrolled: the radius over distance along the log and direction, fitted to scanned points.

The surface is the one of `logs.shape`, a net of n stations by m directions. The fit is a smooth sheet laid over the points: least
squares of the distances, plus a little stiffness against bending round the stem and along it. Where points are missing the
stiffness alone carries the sheet across. Points that lie far off (branches, ground, a second wall from a badly joined scan) lose
their weight step by step: first by absolute distance, then altogether (Tukey's biweight).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from waney.logs.cells import Cells, cells_of

if TYPE_CHECKING:  # slow to load, and most logs have no scan: loaded where it is used
    from scipy import sparse

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

LOBES = 20.0
"""Bumps repeated this often round the stem come out at half their height, finer ones are taken for bark and noise. Ours."""
WAVE_M = 0.35
"""The same along the stem: length of the wave that comes out at half its height [m]. Ours."""
LEAST_NOISE_M = 0.0005
"""Points nearer than this to the sheet are not told apart [m]."""
ROUNDS = 4
"""Rounds of weighing by absolute distance ..."""
START_LOBES, START_WAVE_M = 4.0, 1.5
"""... with a sheet this stiff, which strays in a gap cannot pull away with them. Ours."""
WIDE = (8.0, 6.0)
"""First rounds: a point's weight is nil beyond this many deviations; the sheet must reach into a buttress's tip."""
STRAY, LAST_ROUNDS = 3.5, 3
"""Last rounds: nil beyond this many deviations from what most points of its cell say, so that of two walls one is kept. Ours."""
NEAREST, WITHIN_NEAREST = 0.30, 0.3853
"""30 % of normal noise lie within 0.3853 standard deviations."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """A fitted net, and how the points lie to it. Metres.

    radius_m (n, m); off_m (N,): how far each point lies outside the sheet, along the ray from the centre; weight (N,) 0..1;
    z_m (N,) and angle (N,) [rad, 0..2 pi): where on the sheet; noise_m: standard deviation of the points that count.
    """

    radius_m: Array
    off_m: Array
    weight: Array
    z_m: Array
    angle: Array
    noise_m: float


def fitted(points_m: Array, z_m: Array, centre_m: Array, directions: int, weight: Array | None = None) -> Sheet:
    """Lay a sheet over points.

    Args:
        points_m: (N, 3), all with z between the first and the last station
        z_m: stations (n,), evenly spaced, at least 3
        centre_m: (n, 2) inside the stem; straight between stations
        directions: m
        weight: weights (N,) of an earlier fit to start from; without them the fit starts from absolute distances
    """
    along, angle, reach = _polar(points_m, z_m, centre_m, directions)
    net = _net(along, angle, len(z_m), directions)
    a_corner = len(points_m) / (len(z_m) * directions)
    stiff = _stiffness(z_m, directions, LOBES, WAVE_M) * a_corner
    stiffer = _stiffness(z_m, directions, START_LOBES, START_WAVE_M) * a_corner
    started = _from_distances(net, reach, stiffer) if weight is None else _solved(net, reach, stiff, weight)
    turned = angle * 2.0 * np.pi / directions
    cells = cells_of(points_m[:, 2], turned, float(z_m[-1]))
    radius, kept = _without_strays(net, reach, stiff, cells, started)
    off, grid = reach - net @ radius, radius.reshape(len(z_m), directions)
    return Sheet(grid, off, kept, points_m[:, 2], turned, _deviation(off[kept > 0.0]))


def _without_strays(
    net: sparse.csr_array, reach: Array, stiff: sparse.csr_array, cells: Cells, radius: Array
) -> tuple[Array, Array]:
    """Radii and weights after the rounds of the biweight."""
    for limit in WIDE:
        off = reach - net @ radius
        radius = _solved(net, reach, stiff, _biweight(off / (limit * _deviation(off))))
    weight = np.ones(len(reach))
    for _ in range(LAST_ROUNDS):
        off = reach - net @ radius
        off = off - cells.mode(off, _core_deviation(off), WIDE[-1] * _deviation(off))
        weight = _biweight(off / (STRAY * _core_deviation(off)))
        radius = _solved(net, reach, stiff, weight)
    return radius, weight


def _biweight(off: Array) -> Array:
    """Tukey's: 1 in the middle, nil from 1 on."""
    weight: Array = np.clip(1.0 - off**2, 0.0, 1.0) ** 2
    return weight


def _core_deviation(off: Array) -> float:
    """Standard deviation of normal noise by the nearest 30 % of the points, which a second wall hardly touches."""
    return max(float(np.quantile(np.abs(off), NEAREST)) / WITHIN_NEAREST, LEAST_NOISE_M)


def _from_distances(net: sparse.csr_array, reach: Array, stiff: sparse.csr_array) -> Array:
    """Least sum of absolute distances, so that the nearer half of the points decides where there are two walls."""
    radius = _solved(net, reach, stiff, np.ones(len(reach)))
    for _ in range(ROUNDS):
        off = np.abs(reach - net @ radius)
        scale = max(float(np.median(off)), LEAST_NOISE_M)
        radius = _solved(net, reach, stiff, scale / np.maximum(off, 0.2 * scale) / 5.0)
    return radius


def _deviation(off: Array) -> float:
    """Standard deviation by the median distance (1.4826 turns one into the other for normal noise), which strays hardly touch."""
    return max(1.4826 * float(np.median(np.abs(off))), LEAST_NOISE_M)


def _polar(points_m: Array, z_m: Array, centre_m: Array, directions: int) -> tuple[Array, Array, Array]:
    """Place along the stations and round the directions, in steps, and the radius that the net's corners would have there.

    Between two corners the net runs along the chord, which lies inside the circle; the last factor puts that right.
    """
    along = (points_m[:, 2] - z_m[0]) / (z_m[1] - z_m[0])
    middle = np.stack([np.interp(points_m[:, 2], z_m, centre_m[:, k]) for k in (0, 1)], axis=1)
    out = points_m[:, :2] - middle
    step = 2.0 * np.pi / directions
    angle = np.mod(np.arctan2(out[:, 1], out[:, 0]), 2.0 * np.pi) / step
    within = angle - np.floor(angle)
    reach = np.hypot(out[:, 0], out[:, 1]) * np.cos((within - 0.5) * step) / np.cos(0.5 * step)
    return along, angle, reach


def _net(along: Array, angle: Array, n: int, m: int) -> sparse.csr_array:
    """Rows: points; columns: corners of the net; each point lies between four."""
    from scipy import sparse

    i = np.clip(np.floor(along).astype(np.int64), 0, n - 2)
    j = np.floor(angle).astype(np.int64)
    t, s = along - i, angle - j
    j = j % m
    nxt = (j + 1) % m
    columns = np.stack([i * m + j, i * m + nxt, (i + 1) * m + j, (i + 1) * m + nxt], axis=1)
    shares = np.stack([(1 - t) * (1 - s), (1 - t) * s, t * (1 - s), t * s], axis=1)
    starts = np.arange(0, 4 * len(along) + 1, 4)
    return sparse.csr_array((shares.ravel(), columns.ravel(), starts), shape=(len(along), n * m))


def _stiffness(z_m: Array, directions: int, lobes: float, wave_m: float) -> sparse.csr_array:
    """Penalty on bending for one point a corner: so many lobes round and such a wave along come out at half their height."""
    from scipy import sparse

    n, step_m, turn = len(z_m), z_m[1] - z_m[0], 2.0 * np.pi / directions
    ring = np.eye(directions)
    bend_round = sparse.csr_array(np.roll(ring, 1, 1) - 2.0 * ring + np.roll(ring, -1, 1))
    bend_along = sparse.diags_array([1.0, -2.0, 1.0], offsets=[0, 1, 2], shape=(n - 2, n), format="csr")
    around = sparse.kron(sparse.eye_array(n), bend_round.T @ bend_round) / (lobes * turn) ** 4
    lengthwise = sparse.kron(bend_along.T @ bend_along, sparse.eye_array(directions)) / (2.0 * np.pi * step_m / wave_m) ** 4
    return sparse.csr_array(around + lengthwise)


def _solved(net: sparse.csr_array, reach: Array, stiff: sparse.csr_array, weight: Array) -> Array:
    """Radii (n m,) of the stiff sheet for these weights."""
    from scipy import sparse
    from scipy.sparse.linalg import splu

    weighted = net.multiply(weight[:, None]).tocsr()
    left = sparse.csc_array(weighted.T @ net + stiff)
    # a sparse factor in one thread: the same bytes on any number of cores, and no threads fighting on a busy machine
    factor = splu(left, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    radius: Array = factor.solve(weighted.T @ reach)
    return radius
