"""Piece: one as-sawn, green piece of wood in its own frame, and where it lay in the log.

Piece frame, right-handed, metres, origin at the centre of the bounding box: x towards the top end of the log, z from face B
(down when sawn) to face A, so that y points to the left of someone at the butt end looking up the log. Edges are known
on three planes: face B, the mid-plane, face A. Everything that is measured on a piece is measured on these.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.frames import Placing
from waney.logs.measured import Hidden
from waney.logs.rings import RingField

Array = NDArray[np.float64]
Vector = tuple[float, float, float]

FACE_B, MID_PLANE, FACE_A = 0, 1, 2


class BadPiece(Problem):
    """The arrays of a piece do not fit together."""


@dataclass(frozen=True)
class PieceZone:
    """Metal, rot, hollow or the like inside a piece: a round rod from one point to another, piece frame [m]."""

    kind: Hidden
    start_m: Vector
    end_m: Vector
    radius_m: float
    chance: float = 1.0
    note: str = ""


@dataclass(frozen=True, eq=False)
class Piece:
    """A green piece as it came off the saw.

    along_m (n,): stations, evenly spaced, from one end to the other; low_y_m and high_y_m (3, n): the two edges inside bark on
    face B, mid-plane, face A; nan where the piece has no wood at that station on that plane. pith_m (k, n, 2): y, z of each pith
    where it passes the stations (inside or outside of the piece), k = 0 when not known. A piece may have no log: then
    `to_log` and `rings` are None and what needs the log answers "log not known".
    """

    name: str
    species: str
    thickness_m: float
    along_m: Array
    low_y_m: Array
    high_y_m: Array
    pith_m: Array
    zones: tuple[PieceZone, ...] = ()
    log: str | None = None
    to_log: Placing | None = None
    rings: RingField | None = None
    sawn_edges: tuple[bool, bool] = (False, False)
    """whether the low-y and the high-y edge are sawn (else live)"""

    def __post_init__(self) -> None:
        n = len(self.along_m)
        fits = self.low_y_m.shape == (3, n) and self.high_y_m.shape == (3, n) and self.pith_m.shape[1:] == (n, 2)
        if not fits or n < 2 or self.thickness_m <= 0:
            raise BadPiece("A piece needs a thickness above zero, two stations or more, and edges on three planes.")
        for array in (self.along_m, self.low_y_m, self.high_y_m, self.pith_m):
            array.setflags(write=False)

    @property
    def length_m(self) -> float:
        """End to end [m]."""
        return float(self.along_m[-1] - self.along_m[0])
