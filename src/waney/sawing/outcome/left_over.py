"""Left over: how what upright sawn planes leave of a log finds its rest on the bark that is still there."""

from __future__ import annotations

from math import atan2
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.frames import Placing
from waney.sawing.lie import Underside, at_crossbars, let_down, supporting_edge

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Between = tuple[float, float]
"""What the planes leave across: from low to high u [m]; infinite where nothing is cut off."""


class NothingLeft(Problem):
    """The sawn planes leave no wood that could lie on the bed."""


class Edges(NamedTuple):
    """Edges of outlines cut off by the planes: both ends of every edge (n, m, 3), and whether the planes leave it (n, m)."""

    start: Array
    end: Array
    left: Mask


def rested_between(
    wood: Array, bark: Array, raised_m: float, turned: Placing, between: Between, crossbars_m: tuple[float, ...] = ()
) -> Placing:
    """Let what lies between two upright planes down onto its bark; `turned` is its lie before that. Raises NothingLeft.

    wood, bark (n, m, 3): the log's surfaces, log frame; raised_m: see lie.RAISED_M. The stations are the shape's own, each cut
    off in its own plane (docs/design/sawing.md).
    """
    edges = cut_off(turned.there(bark), between)
    held: Mask = np.asarray(edges.left.any(axis=1))
    if np.count_nonzero(held) < 2:
        raise NothingLeft("The opened faces leave nothing of the log that could lie on its bark.")
    under = at_crossbars(_underside(edges, held), crossbars_m)
    a, b = supporting_edge(under.w, under.v, _centre_w(edges, turned, bark[:, 0, 2]))
    return let_down(wood[0], turned, atan2(under.v[b] - under.v[a], under.w[b] - under.w[a]), under, raised_m)


def cut_off(outer: Array, between: Between) -> Edges:
    """Outlines (n, m, 3) as u, v, w, cut off by upright planes."""
    a, b = outer, np.roll(outer, -1, axis=1)
    run = b[..., 0] - a[..., 0]
    low, high = np.minimum(a[..., 0], b[..., 0]), np.maximum(a[..., 0], b[..., 0])

    def at(u: Array) -> Array:
        t = (u - a[..., 0]) / np.where(run == 0.0, 1.0, run)
        point: Array = a + t[..., None] * (b - a)
        return point

    left = (high >= between[0]) & (low <= between[1])
    return Edges(at(np.clip(a[..., 0], *between)), at(np.clip(b[..., 0], *between)), left)


def _underside(edges: Edges, held: Mask) -> Underside:
    """The lowest point of every station that is still there."""
    ends = np.concatenate([edges.start, edges.end], axis=1)
    v = np.where(np.concatenate([edges.left, edges.left], axis=1), ends[..., 1], np.inf)
    lowest = ends[np.arange(len(v)), v.argmin(axis=1)][held]
    return Underside(lowest[:, 0], lowest[:, 2], lowest[:, 1])


def _centre_w(edges: Edges, turned: Placing, z: Array) -> float:
    """Centre of mass along w [m]: areas of the stations, linear between them."""
    (ua, va), (ub, vb) = (np.moveaxis(end[..., :2] * edges.left[..., None], 2, 0) for end in (edges.start, edges.end))
    # below every edge lies a trapezoid; clockwise or not cancels out of the quotients
    area = ((ua - ub) * (va + vb)).sum(axis=1) / 2.0
    whole = np.where(area == 0.0, 1.0, area)
    u = ((ua - ub) * (ua * (2.0 * va + vb) + ub * (va + 2.0 * vb))).sum(axis=1) / 6.0 / whole
    v = ((ua - ub) * (va * va + va * vb + vb * vb)).sum(axis=1) / 6.0 / whole
    w, area = _w_of(turned, z, u, v), np.abs(area)
    moment = np.sum(np.diff(z) * (w[:-1] * (2.0 * area[:-1] + area[1:]) + w[1:] * (area[:-1] + 2.0 * area[1:]))) / 6.0
    return float(moment / np.sum(np.diff(z) * (area[:-1] + area[1:]) / 2.0))


def _w_of(turned: Placing, z: Array, u: Array, v: Array) -> Array:
    """w of the points u, v (n,) in the planes of the stations z (n,)."""
    along = np.array(turned.turn)[:, 2]
    shift = np.array(turned.shift)
    w: Array = shift[2] + (z - along[0] * (u - shift[0]) - along[1] * (v - shift[1])) / along[2]
    return w
