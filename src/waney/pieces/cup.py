"""Cup of a flat piece when it dries: in closed form about a pith outside of it, as an elastic section about one inside.

For circular rings the closed form is exact, whatever the stiffness of the wood: docs/methods/pieces.md.
"""

from __future__ import annotations

from math import atan

import numpy as np
from numpy.typing import NDArray

from waney.pieces.elastic import dried_warp
from waney.pieces.piece import Piece
from waney.pieces.shrinking import Shrinking
from waney.pieces.windows import Span, Window

Array = NDArray[np.float64]
LINE = 401
"""Places along a line at which its distance from a chord is looked up; the largest is met to 1e-5 of itself."""


def cup_m(shrinking: Shrinking, half_width_m: float, pith_distance_m: float) -> float:
    """Sagitta of the mid-surface across the whole width, hollow on the bark side [m].

    half_width_m: half of the flat piece's green width, its middle opposite the pith; pith_distance_m: from the pith to the
    mid-plane, above zero. (S_T - S_R) · f · x · atan(x/d): the displacement of the stress-free state, see docs/methods/pieces.md.
    """
    difference = shrinking.tangential - shrinking.radial
    return difference * shrinking.dryness * half_width_m * atan(half_width_m / pith_distance_m)


def pith_distance_m(piece: Piece, window: Window) -> float | None:
    """From the mid-plane to the (nearer) pith in the middle of the window, at least half the thickness; None when not known."""
    if not len(piece.pith_m):
        return None
    every = np.arange(len(piece.along_m))
    middle = (window.first + window.last) / 2.0
    heights = [abs(float(np.interp(middle, every, line[:, 1]))) for line in piece.pith_m]
    return max(min(heights), piece.thickness_m / 2.0)


def cup_of_part_m(piece: Piece, window: Window, half_width_m: float, shrinking: Shrinking) -> float:
    """Cup of a flat part of the piece of this half width, taken about its own middle; 0 when no pith is known [m]."""
    distance = pith_distance_m(piece, window)
    return 0.0 if distance is None else cup_m(shrinking, half_width_m, distance)


def cup_of_flat_m(piece: Piece, window: Window, edges: Span, shrinking: Shrinking) -> float | None:
    """Cup of the mid-surface of a flat part between two edges (y), with rings about the nearest pith [m]; None when not known.

    Taken in the middle of the window. Above zero: hollow on face A; below zero: hollow on face B.
    """
    if not len(piece.pith_m):
        return None
    every, middle = np.arange(len(piece.along_m)), (window.first + window.last) / 2.0
    piths = [(float(np.interp(middle, every, line[:, 0])), float(np.interp(middle, every, line[:, 1]))) for line in piece.pith_m]
    y, z = min(piths, key=lambda pith: abs(pith[1]))
    if edges[0] < y < edges[1] and abs(z) < piece.thickness_m / 2.0:
        centre = (edges[0] + edges[1]) / 2.0
        return dried_warp(edges[1] - edges[0], piece.thickness_m, (y - centre, z), shrinking).hollow_mid_m
    return _hollow_beside_m(shrinking, edges[0] - y, edges[1] - y, -z)


def _hollow_beside_m(shrinking: Shrinking, from_m: float, to_m: float, above_m: float) -> float:
    """Largest distance from its chord of a level line above_m over the pith, from_m..to_m beside it, when dried [m].

    The stress-free state lifts a place at y beside and d over the pith by (S_T - S_R)·f·y·atan(y/d).
    """
    if above_m == 0.0:
        return 0.0
    y = np.linspace(from_m, to_m, LINE)
    lifted: Array = (shrinking.tangential - shrinking.radial) * shrinking.dryness * y * np.arctan(y / above_m)
    below = np.interp(y, y[[0, -1]], lifted[[0, -1]]) - lifted
    return float(below[np.argmax(np.abs(below))])
