"""Cup of a flat piece when it dries, in closed form about a pith outside of it; with one inside it errs to the safe side.

For circular rings the closed form is exact, whatever the stiffness of the wood: docs/methods/pieces.md.
"""

from __future__ import annotations

from math import atan

import numpy as np

from waney.pieces.piece import Piece
from waney.pieces.shrinking import Shrinking
from waney.pieces.windows import Window


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
