"""Widths of a piece by the rules people count it by, green, between two stations (both included). Metres.

The narrower face is the one with the smaller area; face B (down when sawn) when both are alike.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.windows import Window

Array = NDArray[np.float64]


class NoWidth(Problem):
    """A face is missing wood somewhere in the stretch that is measured."""


def face_widths_m(piece: Piece, window: Window, face: int) -> Array:
    """Widths at every station of the window on one plane, shape (last - first + 1,). Raises NoWidth where there is no wood."""
    width: Array = (piece.high_y_m[face] - piece.low_y_m[face])[window.stations]
    if not bool(np.all(np.isfinite(width))):
        raise NoWidth(f"{piece.name}: a face does not reach over the whole stretch; measure a shorter one.")
    return width


def mean_width_m(piece: Piece, window: Window, face: int) -> float:
    """Area of one face (trapezoids between stations) divided by its length."""
    width = face_widths_m(piece, window, face)
    return float(np.sum(width[1:] + width[:-1])) / 2.0 / (len(width) - 1)


def face_area_m2(piece: Piece, window: Window, face: int) -> float:
    """Area of one face within the window."""
    length = float(piece.along_m[window.last] - piece.along_m[window.first])
    return mean_width_m(piece, window, face) * length


def narrower_face(piece: Piece, window: Window) -> int:
    """FACE_B or FACE_A, whichever has less area in the window."""
    smaller = mean_width_m(piece, window, FACE_A) < mean_width_m(piece, window, FACE_B)
    return FACE_A if smaller else FACE_B


def wider_face(piece: Piece, window: Window) -> int:
    """The other one."""
    return FACE_B if narrower_face(piece, window) == FACE_A else FACE_A


def narrow_face_width_m(piece: Piece, window: Window) -> float:
    """Mean width of the narrower face."""
    return mean_width_m(piece, window, narrower_face(piece, window))


def mean_of_faces_width_m(piece: Piece, window: Window) -> float:
    """Mean of the mean widths of both faces."""
    return (mean_width_m(piece, window, FACE_B) + mean_width_m(piece, window, FACE_A)) / 2.0


def mid_length_width_m(piece: Piece, window: Window) -> float:
    """Both faces' widths in the middle of the window, averaged; linear between stations."""
    middle = (window.last - window.first) / 2.0
    every = np.arange(window.last - window.first + 1)
    return float(np.mean([np.interp(middle, every, face_widths_m(piece, window, face)) for face in (FACE_B, FACE_A)]))


def widest_width_m(piece: Piece, window: Window) -> float:
    """The widest place of the wider face."""
    return float(np.max(face_widths_m(piece, window, wider_face(piece, window))))


def narrowest_width_m(piece: Piece, window: Window) -> float:
    """The narrowest place of the narrower face: what is there to use everywhere."""
    return float(np.min(face_widths_m(piece, window, narrower_face(piece, window))))
