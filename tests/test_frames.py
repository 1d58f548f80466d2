"""A nail at 3 o'clock stays at 3 o'clock (design section 4)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.frames import Placing, butt_view, clock_to_xy, placing, top_view, xy_to_clock


def test_three_o_clock_is_right_at_the_butt_and_left_at_the_top() -> None:
    x, y = clock_to_xy(3, 0.2)
    assert butt_view(x, y) == pytest.approx((0.2, 0.0))
    assert top_view(x, y) == pytest.approx((-0.2, 0.0))


def test_log_frame_is_right_handed_with_x_at_nine_and_y_at_twelve() -> None:
    x_axis = np.array([*clock_to_xy(9, 1.0), 0.0])
    y_axis = np.array([*clock_to_xy(12, 1.0), 0.0])
    assert np.cross(x_axis, y_axis) == pytest.approx([0.0, 0.0, 1.0])


@given(st.floats(0.01, 12.0))
def test_clock_comes_back(hours: float) -> None:
    assert xy_to_clock(*clock_to_xy(hours, 0.3)) == pytest.approx(hours)


def a_turn(angle: float) -> Placing:
    c, s = np.cos(angle), np.sin(angle)
    return placing(np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]), np.array([0.1, -0.2, 0.3]))


@given(st.floats(-7, 7), st.floats(-7, 7))
def test_placings_chain_and_come_home(a: float, b: float) -> None:
    point = np.array([[0.3, -0.1, 2.0]])
    chained = a_turn(a).after(a_turn(b))
    assert chained.there(point) == pytest.approx(a_turn(a).there(a_turn(b).there(point)))
    assert chained.inverse().there(chained.there(point)) == pytest.approx(point)
    assert chained.back(chained.there(point)) == pytest.approx(point)
