"""Limits against logs whose sizes are known in closed form."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin, sqrt

import numpy as np
import pytest

from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.sawing.fits import Fit, Limit, What, fit_of, rooms_of
from waney.sawing.mill import Mill

STEP = 0.001
MILL = Mill(kerf_m=0.002, widest_cut_m=0.9, lowest_m=0.03, highest_m=0.8, bed_length_m=5.0, step_m=STEP)


def oval(a: float, b: float, length: float = 4.0, m: int = 720) -> LogShape:
    """An elliptic cylinder over bark: half axes a towards 9 and 3 o'clock, b upright; bark 10 mm."""
    z, angle = np.array([0.0, length / 2, length]), 2 * np.pi * np.arange(m) / m
    radius = np.tile(a * b / np.hypot(b * np.cos(angle), a * np.sin(angle)) - 0.01, (3, 1))
    rings = RingField(z, np.zeros((1, 3, 2)), radius[None].copy())
    return LogShape(z, np.zeros((3, 2)), radius, np.full_like(radius, 0.01), rings)


def only(fit: Fit) -> Limit:
    (limit,) = fit.limits
    return limit


def test_a_log_within_every_limit_fits_at_every_roll() -> None:
    fit = fit_of(oval(0.4, 0.4), MILL, (0.0, 45.0, 90.0), 900.0)
    assert fit == Fit((), (0.0, 45.0, 90.0), False)


def test_too_long_is_said_with_its_amount() -> None:
    limit = only(fit_of(oval(0.3, 0.3, 5.3), MILL, (0.0,)))
    assert (limit.what, limit.has, limit.needs) == (What.BED, 5.0, 5.3)
    assert limit.by == pytest.approx(0.3)


def test_too_wide_at_every_roll_is_said_at_the_nearest() -> None:
    limit = only(fit_of(oval(0.6, 0.5), replace(MILL, highest_m=1.2), tuple(range(0, 180, 30))))
    assert (limit.what, limit.has) == (What.WIDTH, 0.9)
    # 1.0 m across when the long axis is upright; a blade height is at most half a step from the middle
    assert limit.needs == pytest.approx(1.0, abs=1e-4)


@pytest.mark.parametrize(("a", "b"), [(0.5, 0.4), (0.47, 0.42)])
def test_the_rolls_that_fit_are_those_whose_longest_level_chord_does(a: float, b: float) -> None:
    rolls = tuple(float(roll) for roll in range(0, 180, 5))
    fit = fit_of(oval(a, b), replace(MILL, highest_m=1.2), rolls)
    # an ellipse's longest chord in a direction goes through its middle
    chords = {r: 2 * a * b / sqrt((b * cos(radians(r))) ** 2 + (a * sin(radians(r))) ** 2) for r in rolls}
    assert fit.rolls_deg == tuple(r for r, chord in chords.items() if chord <= 0.9)
    assert fit.some_rolls_do_not and not fit.limits


def test_a_chord_over_the_highest_blade_is_not_held_against_the_log() -> None:
    """Standing 1.2 m high, its middle at 0.6 m is over a blade that reaches 0.4 m only."""
    low = replace(MILL, highest_m=0.4)
    (room,) = rooms_of(oval(0.6, 0.6), low, (0.0,))
    assert room.wide_m == pytest.approx(2 * sqrt(0.6**2 - 0.2**2), abs=1e-4)
    assert room.above_m == pytest.approx(1.2 - 0.4 - 0.002, abs=1e-4)


def test_too_high_counts_what_stands_above_the_highest_cut() -> None:
    limit = only(fit_of(oval(0.4, 0.5), replace(MILL, thickest_m=0.15), (0.0,)))
    assert (limit.what, limit.has) == (What.HEAD, 0.15)
    # 1.0 m high, the blade goes to 0.8 m and takes 2 mm
    assert limit.needs == pytest.approx(0.198, abs=1e-4)


def test_a_log_that_no_two_crossbars_hold_says_what_is_missing() -> None:
    bars = replace(MILL, crossbars_m=(0.2, 1.4, 2.6))
    short = only(fit_of(oval(0.2, 0.2, 1.0), bars, (0.0,)))
    assert (short.what, short.has, short.needs) == (What.CROSSBARS, 1.4, 1.0)
    assert short.by == pytest.approx(0.4)
    front = only(fit_of(oval(0.2, 0.2, 4.0), replace(MILL, crossbars_m=(0.2, 1.4)), (0.0,)))
    assert (front.what, front.has, front.needs) == (What.CROSSBARS, 1.4, pytest.approx(2.0))
    assert not fit_of(oval(0.2, 0.2, 2.0), bars, (0.0,)).limits


def test_too_heavy_for_the_bed_and_for_two_to_turn() -> None:
    limited = replace(MILL, heaviest_log_kg=800.0, heaviest_turn_alone_kg=200.0, heaviest_turn_helped_kg=600.0)
    fit = fit_of(oval(0.4, 0.4), limited, (0.0,), 1000.0)
    assert {(limit.what, limit.by) for limit in fit.limits} == {(What.WEIGHT, 200.0), (What.TURNING, 400.0)}
    assert not fit_of(oval(0.4, 0.4), limited, (0.0,), None).limits
    alone = replace(MILL, heaviest_turn_alone_kg=200.0)
    assert only(fit_of(oval(0.4, 0.4), alone, (0.0,), 250.0)).by == 50.0


def test_every_limit_is_named_at_once() -> None:
    small = Mill(0.002, 0.5, 0.03, 0.6, 3.0, STEP, thickest_m=0.2, crossbars_m=(0.1, 1.0), heaviest_log_kg=100.0)
    found = [limit.what for limit in fit_of(oval(0.6, 0.6), small, (0.0,), 500.0).limits]
    assert found == [What.BED, What.CROSSBARS, What.WIDTH, What.HEAD, What.WEIGHT]
