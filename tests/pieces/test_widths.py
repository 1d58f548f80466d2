"""Width rules on pieces whose areas are known by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.widths import (
    NoWidth,
    face_area_m2,
    mean_of_faces_width_m,
    mid_length_width_m,
    narrow_face_width_m,
    narrower_face,
    narrowest_width_m,
    widest_width_m,
)
from waney.pieces.windows import Window

WHOLE = Window(0, 2)


def wedge(upper: tuple[float, float, float], lower: tuple[float, float, float]) -> Piece:
    """Three stations 1 m apart; widths of upper and lower face at each, about the middle."""
    a, b = np.array(upper), np.array(lower)
    widths = np.array([b, (a + b) / 2, a])
    return Piece("wedge", "", 0.05, np.array([-1.0, 0.0, 1.0]), -widths / 2, widths / 2, np.zeros((0, 3, 2)))


def test_every_rule_by_hand() -> None:
    """Upper face 0.30, 0.20, 0.26: area 0.25 + 0.23 = 0.48 over 2 m. Lower 0.40, 0.30, 0.32: 0.35 + 0.31 = 0.66 over 2 m."""
    piece = wedge((0.30, 0.20, 0.26), (0.40, 0.30, 0.32))
    assert narrower_face(piece, WHOLE) == FACE_A
    assert narrow_face_width_m(piece, WHOLE) == pytest.approx(0.24)
    assert mean_of_faces_width_m(piece, WHOLE) == pytest.approx(0.285)
    assert mid_length_width_m(piece, WHOLE) == pytest.approx(0.25)
    assert widest_width_m(piece, WHOLE) == pytest.approx(0.40)
    assert narrowest_width_m(piece, WHOLE) == pytest.approx(0.20)
    assert face_area_m2(piece, WHOLE, FACE_B) == pytest.approx(0.66)


def test_half_length_between_stations_is_interpolated() -> None:
    piece = wedge((0.30, 0.20, 0.26), (0.40, 0.30, 0.32))
    assert mid_length_width_m(piece, Window(0, 1)) == pytest.approx((0.25 + 0.35) / 2)


def test_the_lower_face_counts_as_narrower_when_both_are_alike() -> None:
    assert narrower_face(wedge((0.3, 0.2, 0.3), (0.3, 0.2, 0.3)), WHOLE) == FACE_B


def test_an_edged_piece_has_one_width_under_every_rule() -> None:
    piece = wedge((0.2, 0.2, 0.2), (0.2, 0.2, 0.2))
    for rule in (narrow_face_width_m, mean_of_faces_width_m, mid_length_width_m, widest_width_m, narrowest_width_m):
        assert rule(piece, WHOLE) == pytest.approx(0.2)


def test_a_face_that_ends_early_is_named_not_guessed() -> None:
    piece = wedge((0.3, 0.2, 0.3), (0.3, 0.2, 0.3))
    high = piece.high_y_m.copy()
    high[FACE_A, 2] = np.nan
    with pytest.raises(NoWidth, match="wedge: a face does not reach"):
        narrow_face_width_m(replace(piece, high_y_m=high), WHOLE)
