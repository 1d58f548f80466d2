"""Sizes of a piece as sawn, by every rule."""

from __future__ import annotations

from waney.pieces.as_counted import Sizes
from waney.pieces.piece import Piece
from waney.pieces.widths import (
    mean_of_faces_width_m,
    mid_length_width_m,
    narrow_face_width_m,
    narrowest_width_m,
    widest_width_m,
)
from waney.pieces.windows import Window


def green_sizes(piece: Piece, window: Window) -> Sizes:
    """Sizes as sawn between two stations; raises NoWidth where a face is missing."""
    return Sizes(
        thickness_m=piece.thickness_m,
        length_m=float(piece.along_m[window.last] - piece.along_m[window.first]),
        narrow_face_m=narrow_face_width_m(piece, window),
        mean_of_faces_m=mean_of_faces_width_m(piece, window),
        mid_length_m=mid_length_width_m(piece, window),
        widest_m=widest_width_m(piece, window),
        narrowest_m=narrowest_width_m(piece, window),
    )
