"""Rings, zones and free widths inside a slice, against closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import atan, atan2, cos, pi, sqrt

import numpy as np
import pytest

from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import Zone
from waney.prices.product import Grain
from waney.sawing.check.grain import Grained, grained, ring_gradient
from waney.sawing.check.inside import half_width, piths_at, rod_of
from waney.sawing.check.left import Left
from waney.sawing.check.lie import lie_of, rest_slopes
from waney.sawing.check.passes import Costs, near_metal
from waney.sawing.check.sections import Sections
from waney.sawing.check.slices import Slice
from waney.sawing.check.windows import Window, free_between
from waney.sawing.mill import Feed
from waney.sawing.moves import RollOn
from waney.sawing.wants import Tip

R = 0.2


def sections(shape, roll=0.0) -> Sections:
    slope = rest_slopes(shape, roll, ())[0]
    return Sections.of(Left(shape), lie_of(shape, RollOn(roll, Tip.AS_IT_LIES, 0.0), slope, ()))


def cut(shape, lower, upper, roll=0.0) -> Slice:
    across = sections(shape, roll)
    return Slice(across, lower, upper, 0, len(across.w_m) - 1)


def field(reach: np.ndarray, piths: np.ndarray) -> RingField:
    z = np.array([0.0, 3.0])
    return RingField(z, np.repeat(piths[:, None], 2, axis=1), np.repeat(reach[:, None], 2, axis=1))


def test_round_rings_run_square_to_the_line_from_the_pith() -> None:
    rings = field(np.full((1, 72), R), np.array([[0.01, -0.02]]))
    at = np.array([0.07, 0.05, 1.3])
    gradient = ring_gradient(rings, at)
    assert gradient == pytest.approx(np.array([0.06, 0.07, 0.0]) / np.hypot(0.06, 0.07) / R)


def test_oval_rings_run_square_to_the_gradient_of_their_ellipse() -> None:
    a, b, m = 0.25, 0.15, 3600
    way = 2 * pi * np.arange(m) / m
    reach = a * b / np.sqrt((b * np.cos(way)) ** 2 + (a * np.sin(way)) ** 2)
    gradient = ring_gradient(field(reach[None], np.zeros((1, 2))), np.array([0.06, 0.08, 1.0]))
    assert gradient is not None
    # reach is a chain of chords: its slope is off by up to half a step of direction, pi/3600
    assert atan2(gradient[1], gradient[0]) == pytest.approx(atan2(0.08 / b**2, 0.06 / a**2), abs=0.002)


def test_of_two_piths_the_smaller_s_rules_and_none_within_five_millimetres() -> None:
    rings = field(np.array([np.full(72, 0.1), np.full(72, 0.2)]), np.array([[-0.05, 0.0], [0.05, 0.0]]))
    near_first = ring_gradient(rings, np.array([-0.03, 0.0, 1.0]))
    assert near_first == pytest.approx([1 / 0.1, 0.0, 0.0])
    beyond = ring_gradient(rings, np.array([0.0, 0.0, 1.0]))  # as far from both; the second has the longer reach
    assert beyond == pytest.approx([-1 / 0.2, 0.0, 0.0], abs=1e-12)
    assert ring_gradient(rings, np.array([-0.047, 0.003, 1.0])) is None


def test_a_slice_far_from_the_pith_is_flat_and_one_through_it_is_quarter(make) -> None:
    shape = make.cylinder(R, 3.0, m=720)
    middle = grained(cut(shape, 0.19, 0.21))
    assert all(sample.c2 < 1e-20 or abs(sample.u_m) < 1e-9 for sample in middle.samples)  # radius and face run the same way there
    upper = grained(cut(shape, 0.34, 0.36))
    half = sqrt(R**2 - 0.15**2)
    # (h/x)·atan(x/h), straight between points 20 mm apart: off by no more than 0.02²/4/h²
    assert upper.mean_c2 == pytest.approx(0.15 / half * atan(half / 0.15), abs=0.02**2 / 4 / 0.15**2)
    assert len(upper.samples) == 5 * 13  # the middle and six columns either side within 132 mm
    assert all(s.has(Grain.FLAT, 0.0) == (s.c2 > cos(pi / 6) ** 2) for s in upper.samples)


def test_no_grain_is_read_where_no_wood_is_left() -> None:
    assert Grained(()).mean_c2 == 0.5


def test_a_nail_blocks_its_circle_less_what_lies_beyond_the_face(make) -> None:
    nail = Zone(Hidden.METAL, 1.0, 1.02, -0.06, 0.05, 0.02)
    piece = cut(make.cylinder(R, 3.0, m=720, zones=(nail,)), 0.26, 0.29)  # the nail's axis is at v = 0.25, 10 mm below the face
    window = Window(piece, 0, 40, 1e-9)
    half = sqrt(0.02**2 - 0.01**2)
    ((low, high),) = window.blocked(make.board(pith_kept=True))
    assert (low, high) == pytest.approx((-0.06 - half, -0.06 + half), abs=1e-6)
    edge = sqrt(R**2 - 0.09**2)
    left, right = window.free(make.board(pith_kept=True))
    assert left == pytest.approx((-edge, low), abs=1e-5)
    assert right == pytest.approx((high, edge), abs=1e-5)
    assert window.blocked(make.board(pith_kept=True, may_hold=frozenset({Hidden.METAL}))) == ()


def test_a_short_zone_counts_at_both_stations_around_it_and_a_long_one_only_inside(make) -> None:
    w = np.linspace(0.0, 3.0, 41)
    placed = sections(make.cylinder(R, 3.0)).lie
    assert rod_of(Zone(Hidden.METAL, 1.0, 1.02, 0, 0, 0.01), placed).counts_at(w) == {13, 14}
    assert rod_of(Zone(Hidden.METAL, 1.0, 1.06, 0, 0, 0.01), placed).counts_at(w) == {13, 14, 15}
    assert rod_of(Zone(Hidden.ROT, 1.0, 1.2, 0, 0, 0.01), placed).counts_at(w) == {14, 15, 16}


def test_half_width_of_a_circle_seen_from_a_slice() -> None:
    assert half_width(0.02, 0.5, 0.4, 0.6) == 0.02
    assert half_width(0.05, 0.63, 0.4, 0.6) == pytest.approx(0.04)
    assert half_width(0.02, 0.63, 0.4, 0.6) is None


def test_what_is_left_between_blocked_runs() -> None:
    assert free_between((0.0, 10.0), ((4.0, 5.0), (2.0, 4.5), (9.0, 12.0))) == ((0.0, 2.0), (5.0, 9.0))
    assert free_between((0.0, 10.0), ((-1.0, 11.0),)) == ()


def test_pith_boxed_out_and_grain_on_either_side_of_it(make) -> None:
    piece = cut(make.cylinder(R, 3.0, m=720, pith=lambda z: (0.03, 0.0)), 0.19, 0.21)
    window = Window(piece, 0, 40, 1e-9)
    edge = sqrt(R**2 - 0.01**2)
    left, right = window.free(make.board(pith_kept=False))
    assert (*left, *right) == pytest.approx((-edge, 0.025, 0.035, edge), abs=1e-5)
    both = window.free(make.board(pith_kept=True, grain=Grain.QUARTER))
    assert both[0] == pytest.approx((-edge, edge), abs=1e-5)
    assert both[1:] == (pytest.approx((-edge, 0.03), abs=1e-5), pytest.approx((0.03, edge), abs=1e-5))
    assert window.holds_pith((0.0, 0.1))
    assert not window.holds_pith((0.04, 0.1))


def test_pith_line_is_cut_where_the_stations_are(make) -> None:
    shape = make.cylinder(R, 3.0, pith=lambda z: (0.01 * z, -0.02 * z), stations=2)
    across = sections(shape)
    ((first, *_, last),) = piths_at(shape.rings, across.lie, across.w_m)
    assert first == pytest.approx([0.0, R])
    assert last == pytest.approx([0.03, R - 0.06])


@pytest.mark.parametrize(("height", "near"), [(0.1869, False), (0.1871, True), (0.2, True), (0.2229, True), (0.2231, False)])
def test_the_band_is_near_metal_within_radius_and_margin(make, height, near) -> None:
    """Nail at v = 0.205 with 8 mm radius, 10 mm margin: near from 0.187 - the kerf's 0 below to 0.223 above."""
    nail = Zone(Hidden.METAL, 1.0, 1.02, 0.0, 0.005, 0.008, 0.5)
    across = sections(make.cylinder(R, 3.0, zones=(nail,)))
    assert near_metal(across, height, 0.0, 0.010) == ((0.5,) if near else ())
    assert near_metal(across, height - 0.003, 0.003, 0.010) == ((0.5,) if near or height == 0.2231 else ())


def test_rot_is_no_metal(make) -> None:
    across = sections(make.cylinder(R, 3.0, zones=(Zone(Hidden.ROT, 1.0, 2.0, 0.0, 0.0, 0.05),)))
    assert near_metal(across, R, 0.002, 0.01) == ()


def test_a_pass_costs_its_minutes_its_feed_and_its_wear(make) -> None:
    """Width 0.3 m lies half way between the rows: (9 + 5)/2 = 7 m a minute; 2.8 m take 0.4 minutes."""
    feeds = (Feed(0.2, 12.0, 9.0), Feed(0.4, 8.0, 5.0))
    mill = replace(make.mill, feeds=feeds, minutes_per_pass=1.6, hourly_cents=6000.0, blade_cents=3000.0, blade_life_m2=100.0)
    assert Costs(mill, hardwood=True).cut(0.3, 2.8) == pytest.approx(2.0 * 100 + 0.84 * 30)
    assert Costs(mill, hardwood=False).cut(0.3, 2.8) == pytest.approx((1.6 + 0.28) * 100 + 0.84 * 30)
    assert Costs(mill, hardwood=True).cut(0.9, 5.0) == pytest.approx((1.6 + 1.0) * 100 + 4.5 * 30)
    assert Costs(replace(mill, feeds=(), blade_life_m2=None), hardwood=True).cut(0.3, 2.8) == pytest.approx(160.0)
    assert Costs(replace(mill, hourly_cents=None, blade_cents=None), hardwood=True).cut(0.3, 2.8) == 0.0
