"""Edged: the board that a piece is, or that edging would leave of it, with its marks in the board's own frame."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from waney.figures.problem import Problem
from waney.pieces.face_map import FaceMap, Mark
from waney.pieces.grading.grade import Board
from waney.pieces.piece_sheet import SheetPiece
from waney.pieces.rectangle import Rectangle


class NoShape(Problem):
    """A piece of which neither sizes nor edges are told."""


@dataclass(frozen=True)
class Edged:
    """board: what is graded; rectangle: where it lies in a live-edge piece, None for a board."""

    board: Board
    rectangle: Rectangle | None


def edged(piece: SheetPiece) -> Edged:
    """A board as it is; of a live-edge piece the largest rectangle that is wood on both faces.

    The marked end of such a board is that of the piece; a mark that lies askew in it counts as the box round it. Raises NoShape,
    NoBoard, BadEdge.
    """
    if piece.board_m is not None:
        return Edged(Board(*piece.board_m, piece.faces, piece.kiln_dried), None)
    if piece.outline is None:
        raise NoShape("A grade needs a board: write its length and width, or trace the edges of the piece.")
    found = piece.wood_on_both().rectangle()
    marks = tuple(mark for each in piece.faces.marks if (mark := _on_board(each, found)) is not None)
    return Edged(Board(found.length_m, found.width_m, FaceMap(marks), piece.kiln_dried), found)


def _on_board(mark: Mark, board: Rectangle) -> Mark | None:
    """The part of a mark that is on the board, in its frame; None for one beside it."""
    angle = board.angle_rad if cos(board.angle_rad) >= 0.0 else board.angle_rad + pi
    along = np.array([cos(angle), sin(angle)])
    across = np.array([-along[1], along[0]])
    seen = (mark.ring - [board.x_m, board.y_m]) @ np.column_stack([along, across])
    size = np.array([board.length_m, board.width_m])
    low, high = np.maximum(seen.min(axis=0) + size / 2.0, 0.0), np.minimum(seen.max(axis=0) + size / 2.0, size)
    if (low >= high).any():
        return None
    return Mark(mark.kind, mark.face, float(low[0]), float(high[0]), float(low[1]), float(high[1]), mark.note)
