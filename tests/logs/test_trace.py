"""Traced ends: scale, turn and side come out right in the log frame."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.frames import butt_view, clock_to_xy, top_view, xy_to_clock
from waney.logs.measured import Inside, Point
from waney.logs.outline import BadOutline
from waney.logs.rounds import as_read
from waney.logs.trace import End, Picture, scale_by_diameter, scale_by_distance, traced_end

ROUND = tuple((400 + 200 * cos(2 * pi * k / 120), 300 + 200 * sin(2 * pi * k / 120)) for k in range(120))


def pictured(end: End, x_m: float, y_m: float, px_per_m: float, up_clock_h: float) -> Point:
    """Where a log-frame point stands in a picture whose up is this clock position; written here from the frame's definition."""
    view = butt_view if end is End.BUTT else top_view
    right, up = view(x_m, y_m)
    turn = (1 if end is End.BUTT else -1) * up_clock_h * pi / 6  # the clock runs clockwise seen at the butt
    return 500 + px_per_m * (right * cos(turn) - up * sin(turn)), 400 - px_per_m * (right * sin(turn) + up * cos(turn))


@pytest.mark.parametrize("end", list(End))
@given(up=st.floats(0.0, 12.0), clock=st.floats(0.5, 11.9), far=st.floats(0.02, 0.2))
def test_a_nail_comes_back_to_its_clock_position_on_a_photo_of_either_end(end: End, up: float, clock: float, far: float) -> None:
    outline = tuple(pictured(end, 0.3 * cos(a), 0.3 * sin(a), 900, up) for a in np.linspace(0, 2 * pi, 90, endpoint=False))
    x, y = clock_to_xy(clock, far)
    traced = traced_end(Picture(end, 1 / 900, up), outline, (pictured(end, x, y, 900, up),))
    found = traced.piths_m[0]
    assert found == pytest.approx((x, y), abs=1e-9)
    assert xy_to_clock(*found) == pytest.approx(clock, abs=1e-6)


def test_three_o_clock_is_right_in_a_picture_of_the_butt_and_left_in_one_of_the_top() -> None:
    for end, side in ((End.BUTT, 150.0), (End.TOP, -150.0)):
        traced = traced_end(Picture(end, 0.001), ROUND, ((400 + side, 300),))
        assert xy_to_clock(*traced.piths_m[0]) == pytest.approx(3.0)


@pytest.mark.parametrize("outline", [ROUND, ROUND[::-1]])
@pytest.mark.parametrize("end", list(End))
def test_the_outline_runs_from_x_to_y_whichever_way_it_was_traced(end: End, outline: tuple[Point, ...]) -> None:
    points = np.array(traced_end(Picture(end, 0.001), outline).outline_m)
    cross = points[:, 0] * np.roll(points[:, 1], -1) - points[:, 1] * np.roll(points[:, 0], -1)
    assert cross.sum() > 0
    assert points.mean(axis=0) == pytest.approx([0, 0], abs=1e-12)


def test_scale_by_two_points_and_by_diameter_agree() -> None:
    scale = scale_by_distance((200, 300), (600, 300), 0.5)
    assert scale == pytest.approx(0.5 / 400)
    # 120 corners hold 0.05 % less area than their circle, so the mean diameter is 0.023 % less than 0.5
    assert scale_by_diameter(ROUND, 0.5) == pytest.approx(scale, rel=3e-4)
    traced = traced_end(Picture(End.BUTT, scale), ROUND)
    assert traced.diameter_m == pytest.approx(0.5, rel=3e-4)
    assert as_read(traced.reading(0.0, Inside.WOOD)) == pytest.approx(0.5, rel=1e-3)


def test_what_is_no_outline_is_refused() -> None:
    with pytest.raises(BadOutline, match="too coarse"):
        traced_end(Picture(End.BUTT, 0.001), ROUND[:5])
    with pytest.raises(BadOutline, match="enclose nothing"):
        traced_end(Picture(End.BUTT, 0.001), tuple((k, k) for k in range(10)))
    with pytest.raises(BadOutline, match="two different points"):
        scale_by_distance((1, 1), (1, 1), 0.5)
