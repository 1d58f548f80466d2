"""Sizes of a piece of the book by a rule: its width, its board feet."""

from __future__ import annotations

from waney.pieces.measures import board_feet
from waney.prices.product import WidthRule
from waney.yard.book.looking import PieceStands


def width_m(piece: PieceStands, rule: WidthRule) -> float | None:
    """A piece's width by a rule where it was measured as it lies; off the tape the widest place where that counts, else the
    middle of narrowest and widest."""
    if piece.measured is not None:
        by_rule = {
            WidthRule.NARROW_FACE: piece.measured.narrow_face_m,
            WidthRule.MEAN_OF_FACES: piece.measured.mean_of_faces_m,
            WidthRule.MID_LENGTH: piece.measured.mid_length_m,
            WidthRule.WIDEST: piece.measured.widest_m,
        }
        return by_rule[rule]
    least, most = piece.least_width_m, piece.most_width_m
    if least is None or most is None:
        return None
    return most if rule is WidthRule.WIDEST else (least + most) / 2.0


def feet_of(piece: PieceStands) -> float:
    """Board feet of a piece by its thickness as it is and the middle of its widths; 0 where a size is not known."""
    width = width_m(piece, WidthRule.MEAN_OF_FACES)
    if piece.thickness_m is None or piece.length_m is None or width is None:
        return 0.0
    return board_feet(width, piece.length_m, piece.thickness_m, thin_counts_as_inch=True)
