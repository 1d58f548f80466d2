"""Ring angles on pieces from round and eccentric logs, against hand formulas and an independent gradient."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.rings import RingField
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.ring_samples import GrainLimits, face_shares, radial_direction, sampled_stations, samples

Maker = Callable[..., Piece]
LIMITS = GrainLimits()


def test_nine_stations_are_spread_evenly_from_end_to_end() -> None:
    assert sampled_stations(33) == (0, 4, 8, 12, 16, 20, 24, 28, 32)
    assert sampled_stations(3) == (0, 0, 0, 1, 1, 1, 2, 2, 2)


@pytest.mark.parametrize("turned", [0.0, 0.7, 3.0])
def test_round_rings_give_height_over_distance_however_the_log_is_turned(round_log_slice: Maker, turned: float) -> None:
    """Rings about the pith: the radial direction at (y, h) is (y, h)/rho, so c2 = h²/(y² + h²)."""
    found = samples(round_log_slice(0.08, 0.03, turned_rad=turned))
    assert len(found.c2) == 72
    assert found.c2 == pytest.approx(0.08**2 / (found.y_m**2 + 0.08**2), abs=1e-9)


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
    direction, rho = radial_direction(rings, x, y, 0.4)
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
    assert radial_direction(rings, -0.05, 0.0, 0.5)[0] == pytest.approx((1.0, 0.0))
    assert radial_direction(rings, 0.05, 0.0, 0.5)[0] == pytest.approx((-1.0, 0.0))


def test_places_within_five_millimetres_of_the_pith_are_left_out(round_log_slice: Maker) -> None:
    """Mid-plane through the pith: the chord of 0.5 m has its middles 31 mm and more from it; moved by 31.25 mm one lies on it."""
    assert len(samples(round_log_slice(0.0, 0.03)).c2) == 72
    assert len(samples(round_log_slice(0.0, 0.03, pith=(0.5 / 16, 0.0))).c2) == 63


def test_a_board_far_from_the_pith_is_flat_and_one_through_it_is_quarter(round_log_slice: Maker) -> None:
    flat = face_shares(round_log_slice(0.22, 0.03, radius=0.25), FACE_B, LIMITS)
    quarter = face_shares(round_log_slice(0.0, 0.01), FACE_A, LIMITS)
    assert (flat.flat, quarter.quarter) == (pytest.approx(0.75), pytest.approx(1.0))


def test_shares_follow_the_angles_of_thirty_and_sixty_degrees(round_log_slice: Maker) -> None:
    """Mid-plane h above the pith: flat to y = h tan 30, quarter from y = h tan 60; counted among the eight middles."""
    piece, h = round_log_slice(0.06, 0.03), 0.06
    y = np.abs(samples(piece).y_m)
    shares = samples(piece).shares(LIMITS)
    assert shares.flat == pytest.approx(np.mean(y < h * np.tan(np.pi / 6)))
    assert shares.quarter == pytest.approx(np.mean(y > h * np.tan(np.pi / 3)))
    assert shares.flat + shares.rift + shares.quarter == pytest.approx(1.0)


def test_limits_are_the_shops(round_log_slice: Maker) -> None:
    found = samples(round_log_slice(0.06, 0.03))
    assert found.shares(GrainLimits(45.0, 45.0)).rift == 0.0
    assert found.shares(GrainLimits(0.0, 90.0)).rift == 1.0


def test_a_bought_piece_has_no_ring_angles_and_the_middle_c2(round_log_slice: Maker) -> None:
    bought = replace(round_log_slice(0.06, 0.03), rings=None, to_log=None, log=None)
    assert samples(bought).mean_c2 == 0.5
    assert samples(bought).shares(LIMITS).flat == 0.0


def test_a_tilted_piece_reads_the_rings_where_it_really_lies(round_log_slice: Maker) -> None:
    """Tilted so that it rises 40 mm over 2.4 m through round rings: c2 follows the height at each station."""
    level = round_log_slice(0.08, 0.03)
    assert level.to_log is not None
    slope = np.arctan(0.04 / 2.4)
    c, s = np.cos(slope), np.sin(slope)
    lean = np.array([[c, 0, -s], [0, 1, 0], [s, 0, c]])
    tilted = replace(level, to_log=replace(level.to_log, turn=tuple(map(tuple, np.array(level.to_log.turn) @ lean))))
    found = samples(tilted)
    height = 0.08 + level.along_m[found.station] * s
    # the normal leans 1/60: what is lost of it in the section is 1/7200 of c2
    assert found.c2 == pytest.approx(height**2 / (found.y_m**2 + height**2), abs=2e-4)
