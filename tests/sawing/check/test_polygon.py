"""The checker's polygons against shapes whose chords and areas have a closed form."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.sawing.check import polygon


def circle(radius: float, corners: int = 3600) -> np.ndarray:
    angle = 2 * np.pi * np.arange(corners) / corners
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


@given(st.floats(0.05, 0.6), st.floats(-0.95, 0.95))
def test_chord_of_a_circle_is_twice_the_root_of_r2_less_d2(radius: float, share: float) -> None:
    run = polygon.longest(polygon.runs_at(circle(radius), share * radius))
    assert run is not None
    # 3600 corners lie at most r (1 - cos(pi/3600)) = 3.8e-7 r inside the circle; on a chord at 0.95 r that is three times as much
    assert run[1] - run[0] == pytest.approx(2 * radius * np.sqrt(1 - share**2), abs=2.5e-6 * radius)
    assert run[0] == pytest.approx(-run[1], abs=1e-6)


@given(st.floats(0.1, 0.5), st.floats(0.1, 0.5), st.floats(-0.9, 0.9))
def test_chord_of_an_ellipse(across: float, up: float, share: float) -> None:
    run = polygon.longest(polygon.runs_at(circle(1.0) * [across, up], share * up))
    assert run is not None
    assert run[1] - run[0] == pytest.approx(2 * across * np.sqrt(1 - share**2), abs=2.5e-6 * across)


def test_no_chord_above_or_below() -> None:
    assert polygon.runs_at(circle(0.2), 0.2001) == ()
    assert polygon.longest(polygon.runs_at(circle(0.2), -0.2001)) is None


def test_of_two_runs_the_longest_and_of_equal_ones_the_first() -> None:
    two_humps = np.array([[0, 0], [6, 0], [6, 3], [5, 3], [5, 1], [2, 1], [2, 3], [0, 3]], dtype=float)
    assert polygon.runs_at(two_humps, 2.0) == ((0.0, 2.0), (5.0, 6.0))
    assert polygon.longest(polygon.runs_at(two_humps, 2.0)) == (0.0, 2.0)
    assert polygon.longest(((0.0, 1.0), (3.0, 4.0))) == (0.0, 1.0)
    assert polygon.runs_at(two_humps, 0.5) == ((0.0, 6.0),)


def test_area_of_circle_and_of_what_a_cut_leaves() -> None:
    radius, at = 0.3, 0.12
    assert polygon.area(circle(radius)) == pytest.approx(np.pi * radius**2, rel=1e-6)
    segment = radius**2 * np.arccos(at / radius) - at * np.sqrt(radius**2 - at**2)
    below = polygon.cut_off(circle(radius), (0.0, 1.0), at)
    assert polygon.area(below) == pytest.approx(np.pi * radius**2 - segment, rel=1e-6)
    assert np.max(below[:, 1]) == pytest.approx(at)


def test_nothing_is_left_beyond_a_cut_that_takes_all() -> None:
    assert len(polygon.cut_off(circle(0.3), (0.0, 1.0), -0.4)) == 0
    assert polygon.area(np.empty((0, 2))) == 0.0
