"""Ring angles on pieces from round and eccentric logs, against hand formulas and an independent gradient."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.rings import RingField
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.ring_samples import GrainLimits, face_shares, radial_directions, sampled_stations, samples

Maker = Callable[..., Piece]
LIMITS = GrainLimits()


def test_five_stations_are_spread_evenly_from_end_to_end() -> None:
    assert sampled_stations(33) == (0, 8, 16, 24, 32)
    assert sampled_stations(3) == (0, 0, 1, 2, 2)


@pytest.mark.parametrize("turned", [0.0, 0.7, 3.0])
def test_round_rings_give_height_over_distance_however_the_log_is_turned(round_log_slice: Maker, turned: float) -> None:
    """Rings about the pith: the radial direction at (y, h) is (y, h)/rho, so c2 = h²/(y² + h²)."""
    found = samples(round_log_slice(0.08, 0.03, turned_rad=turned)).places
    assert len(found.c2) == 5 * 23  # the middle and every 20 mm of the 0.237 m either side
    assert found.c2 == pytest.approx(0.08**2 / (found.y_m**2 + 0.08**2), abs=1e-9)


@pytest.mark.parametrize("height", [0.05, 0.07, 0.11, 0.15, 0.2])
@pytest.mark.parametrize("half", [0.03, 0.06, 0.14])
def test_mean_c2_of_round_rings_is_that_of_the_integral(round_log_slice: Maker, height: float, half: float) -> None:
    """The mean of h²/(y² + h²) from -x to x is (h/x)·atan(x/h). Straight between points 20 mm apart, a curve whose second
    derivative is at most 2/h² is off by 0.02²/8·2/h² in either direction: 0.04 at 50 mm from the pith, 0.0025 at 200."""
    piece = round_log_slice(height, 0.03)
    narrow = replace(piece, low_y_m=np.clip(piece.low_y_m, -half, half), high_y_m=np.clip(piece.high_y_m, -half, half))
    exact = height / half * np.arctan(half / height)
    assert samples(narrow).mean_c2 == pytest.approx(exact, abs=0.02**2 / 4 / height**2)


def test_mean_c2_is_the_same_however_its_stretches_are_summed(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.053, 0.03)
    low, high = piece.low_y_m, piece.high_y_m
    edges = [low, np.full_like(low, -0.013), np.full_like(low, 0.071), high]
    cut = [samples(replace(piece, low_y_m=a, high_y_m=b)) for a, b in pairwise(edges)]
    assert sum(c.integral_m for c in cut) == pytest.approx(samples(piece).integral_m, abs=1e-12)


def s_of(rings: RingField, x: float, y: float) -> float:
    """s by its definition, written out anew: distance over reach, reach linear in the angle."""
    pith, reach = rings.pith_m[0, 0], rings.reach_m[0, 0]
    angles = np.linspace(0, 2 * np.pi, len(reach) + 1)
    angle = np.arctan2(y - pith[1], x - pith[0]) % (2 * np.pi)
    return hypot(x - pith[0], y - pith[1]) / float(np.interp(angle, angles, np.append(reach, reach[0])))


@given(
    st.lists(st.floats(0.1, 0.4), min_size=8, max_size=24),
    st.floats(-0.2, 0.2),
    st.floats(-0.2, 0.2),
)
def test_radial_direction_is_the_steepest_rise_of_s(reach: list[float], x: float, y: float) -> None:
    rings = RingField(np.array([0.0, 1.0]), np.full((1, 2, 2), 0.013), np.array([[reach, reach]]))
    (direction,), (rho,) = radial_directions(rings, np.array([[x, y, 0.4]]))
    step = 1e-7
    sector = 2 * np.pi / len(reach)
    place = (np.arctan2(y - 0.013, x - 0.013) % (2 * np.pi)) / sector
    if rho < 0.01 or min(place % 1, 1 - place % 1) < 1e-3:
        return  # no gradient at the pith, two of them on the border of two sectors
    slope = np.array([s_of(rings, x + step, y) - s_of(rings, x - step, y), s_of(rings, x, y + step) - s_of(rings, x, y - step)])
    # central differences with a step of 1e-7 of values near 1 are good to some 1e-8 / 1e-7
    assert np.array(direction) == pytest.approx(slope / np.linalg.norm(slope), abs=1e-5)


def test_the_nearer_of_two_piths_rules() -> None:
    piths = np.array([[[-0.1, 0.0]] * 2, [[0.1, 0.0]] * 2])
    rings = RingField(np.array([0.0, 1.0]), piths, np.full((2, 2, 16), 0.2))
    direction, distance = radial_directions(rings, np.array([[-0.05, 0.0, 0.5], [0.05, 0.0, 0.5], [0.1, 0.0, 0.5]]))
    assert direction == pytest.approx(np.array([[1.0, 0.0], [-1.0, 0.0], [1.0, 0.0]]))
    assert distance == pytest.approx([0.05, 0.05, 0.0])


def test_a_point_within_five_millimetres_of_the_pith_counts_half(round_log_slice: Maker) -> None:
    """The lattice has a point on the log's middle: c2 is 0 all along a plane through the pith, but for that point."""
    on_it = samples(round_log_slice(0.0, 0.03)).places
    assert sorted(set(on_it.c2.round(12))) == [0.0, 0.5]
    assert on_it.y_m[on_it.c2 > 0.4] == pytest.approx(np.zeros(5))
    beside = samples(round_log_slice(0.0, 0.03, pith=(0.006, 0.0))).places
    assert beside.c2 == pytest.approx(0.0, abs=1e-6)


def test_a_board_far_from_the_pith_is_flat_and_one_through_it_is_quarter(round_log_slice: Maker) -> None:
    flat = face_shares(round_log_slice(0.22, 0.03, radius=0.25), FACE_B, LIMITS)
    quarter = face_shares(round_log_slice(0.0, 0.01), FACE_A, LIMITS)
    # face at 0.205: 0.143 m either side, fifteen columns, eleven of them within 0.205·tan 30; and all but the one on the pith
    assert (flat.flat, quarter.quarter) == (pytest.approx(11 / 15), pytest.approx(24 / 25))


def test_shares_follow_the_angles_of_thirty_and_sixty_degrees(round_log_slice: Maker) -> None:
    """Mid-plane h above the pith: flat to y = h tan 30, quarter from y = h tan 60; counted among the lattice columns."""
    piece, h = round_log_slice(0.06, 0.03), 0.06
    y = np.abs(samples(piece).places.y_m)
    shares = samples(piece).places.shares(LIMITS)
    assert shares.flat == pytest.approx(np.mean(y < h * np.tan(np.pi / 6)))
    assert shares.quarter == pytest.approx(np.mean(y > h * np.tan(np.pi / 3)))
    assert shares.flat + shares.rift + shares.quarter == pytest.approx(1.0)


def test_limits_are_the_shops(round_log_slice: Maker) -> None:
    found = samples(round_log_slice(0.06, 0.03)).places
    assert found.shares(GrainLimits(45.0, 45.0)).rift == 0.0
    assert found.shares(GrainLimits(0.0, 90.0)).rift == 1.0


def test_a_bought_piece_has_no_ring_angles_and_the_middle_c2(round_log_slice: Maker) -> None:
    bought = replace(round_log_slice(0.06, 0.03), rings=None, to_log=None, log=None)
    assert samples(bought).mean_c2 == 0.5
    assert samples(bought).places.shares(LIMITS).flat == 0.0


def test_a_tilted_piece_reads_the_rings_where_it_really_lies(round_log_slice: Maker) -> None:
    """Tilted so that it rises 40 mm over 2.4 m through round rings: c2 follows the height at each station."""
    level = round_log_slice(0.08, 0.03)
    assert level.to_log is not None
    slope = np.arctan(0.04 / 2.4)
    c, s = np.cos(slope), np.sin(slope)
    lean = np.array([[c, 0, -s], [0, 1, 0], [s, 0, c]])
    tilted = replace(level, to_log=replace(level.to_log, turn=tuple(map(tuple, np.array(level.to_log.turn) @ lean))))
    found = samples(tilted).places
    height = 0.08 + level.along_m[found.station] * s
    # the normal leans 1/60: what is lost of it in the section is 1/7200 of c2
    assert found.c2 == pytest.approx(height**2 / (found.y_m**2 + height**2), abs=2e-4)
