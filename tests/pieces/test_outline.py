"""Outline: areas and edges against a library of geometry; what offsets give; what every width rule counts."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from waney.pieces.counted import counted
from waney.pieces.measures import FOOT_M, INCH_M
from waney.pieces.outline import BadEdge, Outline, from_offsets, lying_along, piece_of, square_window
from waney.pieces.sizes import green_sizes
from waney.pieces.windows import Window

Array = NDArray[np.float64]


def wavy(seed: int, length: float = 2.4, width: float = 0.5, points: int = 40) -> Array:
    """A live-edge outline: both edges wander, the ends are straight."""
    rng = np.random.default_rng(seed)
    x = np.linspace(0, length, points)
    left, right = (width / 2 + sum(rng.normal(0, 0.02) * np.sin(k * x + rng.uniform(0, 6)) for k in (1, 2, 5)) for _ in "lr")
    return np.vstack([np.column_stack([x, -right]), np.column_stack([x, left])[::-1]])


def test_the_area_is_that_of_the_library_of_geometry() -> None:
    for seed in range(5):
        hole = np.array([[1.0, -0.05], [1.2, 0.0], [1.1, 0.06]])
        outline = Outline(wavy(seed), (hole,))
        assert outline.area_m2 == pytest.approx(shapely.Polygon(outline.edge_m, [hole]).area, rel=1e-12)


@settings(max_examples=20)
@given(st.integers(0, 1000), st.floats(0.01, 2.39))
def test_edges_across_are_those_of_the_library_of_geometry(seed: int, x: float) -> None:
    outline = Outline(wavy(seed))
    low, high = outline.edges_at(np.array([x]))
    cut = outline.region.intersection(shapely.LineString([(x, -2), (x, 2)]))
    assert (low[0], high[0]) == pytest.approx((cut.bounds[1], cut.bounds[3]), abs=1e-9)


def test_the_usable_rectangle_lies_inside_and_keeps_off_marks() -> None:
    mark = shapely.box(1.1, -0.02, 1.15, 0.02)
    outline = Outline(wavy(3))
    free, beside = outline.rectangle(), outline.rectangle([np.asarray(mark.exterior.coords)[:-1]])
    assert shapely.Polygon(free.corners).difference(outline.region).area < 1e-6 * free.area_m2
    assert beside.area_m2 < free.area_m2
    assert shapely.Polygon(beside.corners).intersection(mark).area < 1e-9


def test_offsets_from_a_line_give_trapezoids() -> None:
    # by hand: widths 0.4, 0.6, 0.5 m every metre: (0.4 + 0.6)/2 + (0.6 + 0.5)/2
    outline = from_offsets([0.0, 1.0, 2.0], [0.2, 0.35, 0.25], [0.2, 0.25, 0.25])
    assert outline.area_m2 == pytest.approx(1.05) and outline.length_m == 2.0


def test_an_outline_laid_along_keeps_its_area_and_begins_at_nothing() -> None:
    edge = wavy(1)
    angle = 0.7
    turned = edge @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]) + 3.0
    turn, shift = lying_along(turned, np.array([1.0, 0.0]))
    laid = turned @ turn.T + shift
    assert laid.min(axis=0) == pytest.approx([0.0, 0.0], abs=1e-12)
    assert np.ptp(laid[:, 0]) > np.ptp(laid[:, 1]) and Outline(laid).area_m2 == pytest.approx(Outline(edge).area_m2)


def test_a_board_is_counted_by_every_rule_and_thickness() -> None:
    """6-3/4 in by 8 ft 10 in of 4/4 that measures 15/16: 8 whole feet, 6.75 · 8 / 12 = 4.5 square feet, which rounds up to 5."""
    edge = from_offsets([0.0, 106 * INCH_M], [6.75 * INCH_M] * 2, [0.0] * 2)
    piece = piece_of("board", "", 15 / 16 * INCH_M, edge, None)
    for count in counted(green_sizes(piece, Window(0, 64)), INCH_M):
        assert count.width_m == pytest.approx(6.75 * INCH_M) and count.surface_measure == 5 and count.tally == 5.0
        assert count.by_nominal == pytest.approx(6.75 * 106 / 144) and count.by_true == pytest.approx(6.75 * 106 / 144 * 15 / 16)


def test_faces_of_different_width_part_the_rules() -> None:
    wide = from_offsets([0.0, 8 * FOOT_M], [0.25, 0.25], [0.25, 0.25])
    narrow = from_offsets([0.0, 8 * FOOT_M], [0.15, 0.25], [0.15, 0.25])
    widths = {c.rule: c.width_m for c in counted(green_sizes(piece_of("p", "", 0.05, wide, narrow), Window(0, 64)), None)}
    # means of the faces 0.5 and 0.4; at mid-length 0.5 and 0.4; widest 0.5, narrowest 0.3
    assert widths == pytest.approx(
        {"narrow_face_m": 0.4, "mean_of_faces_m": 0.45, "mid_length_m": 0.45, "widest_m": 0.5, "narrowest_m": 0.3}, abs=1e-5
    )


def test_outlines_that_cannot_be_are_refused() -> None:
    for bad in (np.zeros((2, 2)), np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])):
        with pytest.raises(BadEdge):
            Outline(bad)
    for at, left, right in (([0.0], [0.1], [0.1]), ([0.0, 0.0], [0.1, 0.1], [0.1, 0.1]), ([0.0, 1.0], [0.1, -0.2], [0.1, 0.1])):
        with pytest.raises(BadEdge):
            from_offsets(at, left, right)


def test_slanting_ends_are_left_out_of_widths_and_square_ones_are_not() -> None:
    """A parallelogram 2 m by 0.4 m whose ends slant by 0.1 m: square cuts leave 1.8 m of full width."""
    slanting = Outline(np.array([[0.0, 0.0], [1.9, 0.0], [2.0, 0.4], [0.1, 0.4]]))
    piece = piece_of("p", "", 0.05, slanting, None)
    window = square_window(piece)
    spacing = 2.0 / 64
    assert piece.along_m[window.last] - piece.along_m[window.first] == pytest.approx(1.8, abs=2 * spacing)
    assert green_sizes(piece, window).narrowest_m == pytest.approx(0.4, abs=spacing)
    square = piece_of("q", "", 0.05, from_offsets([0.0, 1.0, 2.0], [0.2, 0.3, 0.2], [0.2, 0.2, 0.2]), None)
    assert square_window(square) == Window(0, 64)
