"""What a window offers: hand-worked slices, and the arithmetic of gaps for any spans."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.measured import Hidden
from waney.pieces.piece import MID_PLANE, Piece, PieceZone
from waney.pieces.windows import (
    Window,
    blocked,
    free_spans,
    gaps,
    intervals_needed,
    pith_between,
    pith_inside,
    square_edges,
    windows,
)

Maker = Callable[..., Piece]
spans = st.lists(st.tuples(st.floats(-1, 1), st.floats(0.001, 0.5)).map(lambda p: (p[0], p[0] + p[1])), max_size=6)


def nail(x: float, y: float, z: float, radius: float = 0.01, length: float = 0.0) -> PieceZone:
    return PieceZone(Hidden.METAL, (x - length / 2, y, z), (x + length / 2, y, z), radius)


def test_a_length_takes_whole_intervals_and_forgives_rounding() -> None:
    assert intervals_needed(2.4, 0.075) == 32
    assert intervals_needed(2.4000001, 0.075) == 33
    assert intervals_needed(0.01, 0.075) == 1


def test_every_start_is_a_window_as_long_as_there_is_wood_on_all_planes(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.1, 0.03)  # 33 stations, 75 mm apart
    assert [w.first for w in windows(piece, 2.3)] == [0, 1]
    assert windows(piece, 2.5) == ()
    low = piece.low_y_m.copy()
    low[MID_PLANE, 20] = np.nan
    broken = replace(piece, low_y_m=low)
    assert [w.first for w in windows(broken, 1.5)] == []
    assert [w.first for w in windows(broken, 1.4)] == [0]


def test_upper_face_of_a_tapered_log_ends_before_the_lower_one(round_log_slice: Maker) -> None:
    """Radius 0.25 to 0.20 m, upper face at 0.2245: it has wood to half length, where the radius is 0.225."""
    piece = round_log_slice(0.2095, 0.03, radius=0.25, top_radius=0.20)
    assert max(w.last for w in windows(piece, 0.3)) == 16


def test_square_edges_are_those_of_the_narrowest_place_of_both_faces(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.1, 0.03, radius=0.25, top_radius=0.22)
    low, high = square_edges(piece, Window(4, 12))
    r = 0.25 - 0.03 * 12 / 32
    assert high == -low == pytest.approx(np.sqrt(r**2 - 0.115**2))


def test_a_nail_between_stations_is_felt_at_both_of_them(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.1, 0.03, zones=(nail(0.03, 0.05, 0.0),))  # stations 16 (0 m) and 17 (75 mm)
    taken = [blocked(piece, Window(i, i + 1), (), pith_kept=True) for i in range(14, 19)]
    assert [bool(spans) for spans in taken] == [False, True, True, True, False]
    assert taken[1] == (pytest.approx((0.04, 0.06)),)


def test_a_long_rot_counts_at_the_stations_inside_it_only(round_log_slice: Maker) -> None:
    rot = replace(nail(0.03, 0.0, 0.0, 0.02, length=0.2), kind=Hidden.ROT)  # from -0.07 to 0.13: stations 16 and 17
    piece = round_log_slice(0.1, 0.03, zones=(rot,))
    assert [bool(blocked(piece, Window(i, i + 1), (), pith_kept=True)) for i in range(14, 19)] == [False, True, True, True, False]


def test_what_a_round_thing_takes_is_its_chord_at_the_nearer_face(round_log_slice: Maker) -> None:
    """A rod of 10 mm radius 6 mm above the upper face takes 2·sqrt(10² - 6²) = 16 mm; at 10 mm and more nothing."""
    for above, width in ((0.006, 0.016), (0.0101, 0.0)):
        piece = round_log_slice(0.1, 0.03, zones=(nail(0.0, 0.0, 0.015 + above, length=0.3),))
        taken = blocked(piece, Window(14, 18), (), pith_kept=True)
        assert sum(high - low for low, high in taken) == pytest.approx(width)


def test_a_slanting_rod_takes_all_it_covers_over_the_window(round_log_slice: Maker) -> None:
    rod = PieceZone(Hidden.METAL, (-0.6, -0.05, 0.0), (0.6, 0.07, 0.0), 0.01)
    piece = round_log_slice(0.1, 0.03, zones=(rod,))
    assert blocked(piece, Window(0, 32), (), pith_kept=True) == (pytest.approx((-0.06, 0.08)),)


def test_what_may_be_held_does_not_block_and_a_pith_boxed_out_does(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.0, 0.03, zones=(nail(0.0, 0.05, 0.0),))
    assert blocked(piece, Window(0, 32), {Hidden.METAL}, pith_kept=True) == ()
    assert blocked(piece, Window(0, 32), {Hidden.METAL}, pith_kept=False) == (pytest.approx((-0.005, 0.005)),)


@given(spans)
def test_gaps_and_what_was_taken_fill_the_span_without_overlap(taken: list[tuple[float, float]]) -> None:
    left = gaps((-0.8, 0.9), taken)
    for y in np.linspace(-0.7999, 0.8999, 171):
        inside_taken = any(low < y < high for low, high in taken)
        inside_left = sum(low < y < high for low, high in left)
        on_a_border = any(abs(y - end) < 1e-9 for span in (*taken, *left) for end in span)
        assert on_a_border or inside_left == (0 if inside_taken else 1)
    assert all(high > low for low, high in left)


def test_parts_beside_the_pith_are_choices_of_their_own(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.0, 0.03, pith=(0.05, 0.0))
    whole = free_spans(piece, Window(0, 32), ())
    beside = free_spans(piece, Window(0, 32), (), beside_pith=True)
    assert whole == beside[:1]
    assert [round(low, 9) for low, _ in beside[1:]] == [round(whole[0][0], 9), 0.05]


def test_the_lowest_of_equal_widths_comes_first(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.0, 0.03, zones=(nail(0.0, 0.0, 0.0, length=0.5),))
    taken = blocked(piece, Window(0, 32), (), pith_kept=True)
    (first, second) = free_spans(piece, Window(0, 32), taken)
    assert first[0] < 0 < second[0]


def test_the_pith_is_inside_between_faces_and_edges_only(round_log_slice: Maker) -> None:
    assert pith_inside(round_log_slice(0.0, 0.03))
    assert pith_inside(round_log_slice(0.0149, 0.03))
    assert not pith_inside(round_log_slice(0.0151, 0.03))
    piece = round_log_slice(0.0, 0.03)
    assert not pith_between(piece, Window(0, 32), 0.001, 0.1)
