"""Volume of a green piece."""

from __future__ import annotations

import numpy as np

from waney.pieces.piece import FACE_A, FACE_B, MID_PLANE, Piece
from waney.pieces.windows import Window


def volume_m3(piece: Piece, window: Window | None = None) -> float:
    """Volume between two stations, or of the whole piece [m3].

    At every station thickness · (a + 4 m + b)/6 with the widths of lower face, mid-plane and upper face (prismoidal rule; no
    wood counts 0), then trapezoids along the piece. Exact where edges are straight or parabolas between the faces.
    """
    stations = slice(None) if window is None else window.stations
    width = np.nan_to_num((piece.high_y_m - piece.low_y_m)[:, stations], nan=0.0)
    section = piece.thickness_m * (width[FACE_B] + 4.0 * width[MID_PLANE] + width[FACE_A]) / 6.0
    return float(np.sum((section[1:] + section[:-1]) / 2.0 * np.diff(piece.along_m[stations])))
