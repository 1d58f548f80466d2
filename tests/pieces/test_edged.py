"""The board that edging would leave: it lies in the wood, and what is wrong with the faces stays where it is."""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.face_map import Face, FaceMap, Mark, MarkKind
from waney.pieces.grading.edged import NoShape, edged
from waney.pieces.grading.grade import grade
from waney.pieces.outline import Outline
from waney.pieces.piece_sheet import SheetPiece, read_piece_sheet

TOP = 'format = "waney-piece/1"\nunits = "in"\nthickness = "4/4"\n'
KNOT = '[[mark]]\nkind = "knot"\nat = 30\nacross = {}\nlong = 2\nwide = 1\n'
LONG, WIDE = 3.0, 0.2


def piece(text: str) -> SheetPiece:
    return read_piece_sheet(TOP + text)


def live(outline: Outline, *marks: Mark) -> SheetPiece:
    told = piece("[edges]\nevery = 12\nleft = [1, 1]\nright = [1, 1]\n")
    return replace(told, outline=outline, faces=FaceMap(marks))


def test_straight_edges_are_graded_like_the_board_they_enclose() -> None:
    board = edged(piece("length = 120\nwidth = 8\n" + KNOT.format(5)))
    slab = edged(
        piece("[edges]\nat = [0, 120]\nleft = [4, 4]\nright = [4, 4]\n" + KNOT.format(1))
    )  # counted from the middle line
    assert board.rectangle is None and slab.rectangle is not None
    assert slab.board.length_m == pytest.approx(board.board.length_m, rel=1e-4)
    (one,), (other,) = board.board.faces.marks, slab.board.faces.marks
    assert (other.x0_m, other.y0_m) == pytest.approx((one.x0_m, one.y0_m), abs=1e-3)
    assert grade(slab.board).grade == grade(board.board).grade


def test_what_lies_in_the_wane_is_not_on_the_board_and_what_reaches_into_it_is_cut_off() -> None:
    bark = "[edges]\nat = [0, 60, 120]\nleft = [4, 9, 4]\nright = [4, 4, 4]\n"
    assert edged(piece(bark + KNOT.format("8.4").replace("30", "60"))).board.faces.marks == ()
    cut = edged(piece(bark + KNOT.format("0").replace("wide = 1", "wide = 40")))
    (mark,) = cut.board.faces.marks
    assert (mark.y0_m, mark.y1_m) == pytest.approx((0.0, cut.board.width_m))


@settings(max_examples=25, deadline=None)
@given(st.floats(-0.4, 0.4), st.floats(0.2, 2.6), st.floats(0.03, 0.15))
def test_however_a_board_lies_in_its_frame_a_mark_keeps_its_place_on_it(turned: float, x: float, y: float) -> None:
    turn = np.array([[cos(turned), -sin(turned)], [sin(turned), cos(turned)]])
    corners = np.array([(0.0, 0.0), (LONG, 0.0), (LONG, WIDE), (0.0, WIDE)]) @ turn.T
    px, py = turn @ [x, y]
    small = Mark(MarkKind.KNOT, Face.A, px - 1e-3, px + 1e-3, py - 1e-3, py + 1e-3)
    found = edged(live(Outline(corners), small))
    (mark,) = found.board.faces.marks
    assert (found.board.length_m, found.board.width_m) == pytest.approx((LONG, WIDE), rel=2e-3)
    assert ((mark.x0_m + mark.x1_m) / 2, (mark.y0_m + mark.y1_m) / 2) == pytest.approx((x, y), abs=3e-3)
    assert mark.face is Face.A and mark.x1_m - mark.x0_m >= 2e-3 - 1e-9


def test_neither_sizes_nor_edges_is_said() -> None:
    told = piece("length = 120\nwidth = 8\n")
    with pytest.raises(NoShape, match="length and width"):
        edged(replace(told, board_m=None))
