"""The largest rectangle against theorems, brute force, and another way of solving; shapely says whether it lies inside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, degrees, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from waney.logs.measured import Hidden
from waney.pieces.piece import Piece, PieceZone
from waney.pieces.rectangle import NoRectangle, Rectangle, largest_rectangle, usable_rectangle

Maker = Callable[..., Piece]


def found(region: BaseGeometry) -> Rectangle:
    rectangle = largest_rectangle(region)
    assert rectangle is not None
    assert Polygon(rectangle.corners).difference(region).area < 1e-9 * region.area
    assert Polygon(rectangle.corners).area == pytest.approx(rectangle.area_m2)
    return rectangle


@pytest.mark.parametrize("apex", [(0.3, 0.5), (1.0, 1.5), (-0.4, 0.2), (2.4, 0.35)])
def test_a_triangle_holds_half_of_its_area(apex: tuple[float, float]) -> None:
    """Theorem: the largest rectangle in any triangle is half of it, standing on a side with no obtuse angle."""
    triangle = Polygon([(0, 0), (2.4, 0), apex])
    assert found(triangle).area_m2 == pytest.approx(triangle.area / 2, rel=1e-4)


@pytest.mark.parametrize("turned", [0.0, 3.0, 17.0, 44.0, 45.0, -38.0])
def test_a_rectangle_holds_itself_at_any_angle(turned: float) -> None:
    rectangle = found(affinity.rotate(shapely.box(0, 0, 2.4, 0.5), turned))
    assert (rectangle.length_m, rectangle.width_m) == pytest.approx((2.4, 0.5), rel=1e-4)
    assert (degrees(rectangle.angle_rad) - turned) % 180 == pytest.approx(0, abs=0.05) or (
        degrees(rectangle.angle_rad) - turned
    ) % 180 == pytest.approx(180, abs=0.05)


def test_an_ellipse_holds_twice_its_half_axes() -> None:
    """Theorem: 2ab, with sides √2 times the half axes, along them. Of its 40 corners four lie where the rectangle's are."""
    a, b = 1.2, 0.3
    ellipse = Polygon([(a * cos(t), b * sin(t)) for t in 2 * pi * np.arange(40) / 40])
    rectangle = found(affinity.rotate(ellipse, 8.0))
    assert rectangle.area_m2 == pytest.approx(2 * a * b, rel=1e-4)
    assert degrees(rectangle.angle_rad) == pytest.approx(8.0, abs=0.1)


def best_in_convex(region: Polygon) -> float:
    """Another way: centre, half sides and angle by quadratic programming from several starts, corners inside half planes."""
    ring = np.asarray(shapely.geometry.polygon.orient(region).exterior.coords)
    edge = np.diff(ring, axis=0)
    normal = np.column_stack([edge[:, 1], -edge[:, 0]]) / np.linalg.norm(edge, axis=1)[:, None]
    limit = np.sum(normal * ring[:-1], axis=1)

    def room(v: np.ndarray) -> np.ndarray:
        c, s = cos(v[4]), sin(v[4])
        corners = [(v[0] + p * c * v[2] - q * s * v[3], v[1] + p * s * v[2] + q * c * v[3]) for p in (-1, 1) for q in (-1, 1)]
        return np.concatenate([limit - normal @ np.array(corner) for corner in corners])

    middle = region.centroid
    size = np.sqrt(region.area)
    best = 0.0
    for angle in np.linspace(-pi / 4, pi / 4, 7):
        start = np.array([middle.x, middle.y, size / 8, size / 8, angle])
        answer = minimize(lambda v: -v[2] * v[3], start, method="SLSQP", constraints={"type": "ineq", "fun": room})
        if answer.success and room(answer.x).min() > -1e-9:
            best = max(best, 4 * answer.x[2] * answer.x[3])
    return best


@settings(max_examples=12, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 2), st.floats(0, 1)), min_size=4, max_size=9))
def test_in_convex_outlines_it_agrees_with_quadratic_programming(points: list[tuple[float, float]]) -> None:
    region = shapely.convex_hull(shapely.MultiPoint(points))
    if region.area < 0.05:
        return
    # the other way stops at local optima and its own tolerance; ours may not be worse than it by 0.01 %
    assert found(region).area_m2 >= best_in_convex(region) * (1 - 1e-4)


def brute_force(region: BaseGeometry, angles: int, cells: int) -> float:
    """Every rectangle on a grid of cells, at every angle of a grid, that lies inside."""
    best = 0.0
    for angle in np.linspace(-pi / 4, pi / 4, angles, endpoint=False):
        turned = affinity.rotate(region, -angle, origin=(0, 0), use_radians=True)
        x0, y0, x1, y1 = turned.bounds
        dx, dy = (x1 - x0) / cells, (y1 - y0) / cells
        x, y = np.meshgrid(np.arange(cells), np.arange(cells), indexing="ij")
        inside = shapely.contains(turned, shapely.box(x0 + x * dx, y0 + y * dy, x0 + (x + 1) * dx, y0 + (y + 1) * dy))
        best = max(best, most_cells(inside) * dx * dy)
    return best


def most_cells(inside: np.ndarray) -> int:
    n = len(inside)
    best = 0
    for i in range(n):
        column = np.ones(n, bool)
        for j in range(i, n):
            column &= inside[j]
            runs = np.diff(np.flatnonzero(np.concatenate([[True], ~column, [True]])))
            best = max(best, (j - i + 1) * int(runs.max(initial=1) - 1))
    return best


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 10**6))
def test_no_rectangle_on_a_fine_grid_is_larger_in_a_live_edge_with_a_hole(seed: int) -> None:
    draw = np.random.default_rng(seed)
    x = np.linspace(0, 1.2, 9)
    low, high = np.cumsum(draw.normal(0, 0.03, 9)) - 0.25, np.cumsum(draw.normal(0, 0.03, 9)) + 0.25
    outline = Polygon(np.vstack([np.column_stack([x, low]), np.column_stack([x, high])[::-1]]))
    region = outline.buffer(0).difference(shapely.Point(draw.uniform(0.2, 1.0), draw.uniform(-0.1, 0.1)).buffer(0.03, 3))
    area = found(region).area_m2
    assert area >= brute_force(region, 30, 24) * (1 - 1e-4)


def test_a_round_log_slice_gives_the_square_edges_of_its_narrow_face(round_log_slice: Maker) -> None:
    rectangle = usable_rectangle(round_log_slice(0.1, 0.03))
    assert (rectangle.length_m, rectangle.width_m) == pytest.approx((2.4, 2 * np.sqrt(0.25**2 - 0.115**2)), rel=1e-4)


def test_a_slanting_piece_gives_a_slanting_rectangle(round_log_slice: Maker) -> None:
    """The same slice swept sideways by 0.1 m over its 2.4 m: the rectangle follows, 2.4 degrees off, and nothing else does."""
    straight = round_log_slice(0.1, 0.03)
    aside = 0.1 / 2.4 * straight.along_m
    rectangle = usable_rectangle(replace(straight, low_y_m=straight.low_y_m + aside, high_y_m=straight.high_y_m + aside))
    square_to_the_ends = 2.4 * (2 * np.sqrt(0.25**2 - 0.115**2) - 0.1)
    assert rectangle.area_m2 > square_to_the_ends * 1.1
    assert 1.0 < degrees(rectangle.angle_rad) < 2.5


def test_metal_is_kept_out_unless_it_may_be_held(round_log_slice: Maker) -> None:
    nail = PieceZone(Hidden.METAL, (0.9, 0.05, 0.0), (0.95, 0.05, 0.0), 0.01)
    piece = round_log_slice(0.1, 0.03, zones=(nail,))
    clear = usable_rectangle(piece, frozenset())
    assert not Polygon(clear.corners).intersects(shapely.box(0.9, 0.041, 0.95, 0.059))
    assert usable_rectangle(piece).area_m2 > clear.area_m2 * 1.05


def test_a_pith_boxed_out_halves_the_slice_it_runs_through(round_log_slice: Maker) -> None:
    rectangle = usable_rectangle(round_log_slice(0.0, 0.03), pith_kept=False)
    assert rectangle.width_m == pytest.approx(np.sqrt(0.25**2 - 0.015**2) - 0.005, rel=1e-4)


def test_an_outside_slab_without_an_upper_face_has_none(round_log_slice: Maker) -> None:
    with pytest.raises(NoRectangle, match="slice: no part"):
        usable_rectangle(round_log_slice(0.24, 0.03))
