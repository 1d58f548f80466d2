"""Volumes against solids whose volume is known in closed form, and against the published coefficients."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.logs.volume import areas, balance, circle_area, huber, newton, smalian, volume_of

Array = NDArray[np.float64]
FOOT_M, INCH_M = 0.3048, 0.0254


def shaped(z: Array, centre: Array, radius: Array, bark: float = 0.0) -> LogShape:
    rings = RingField(z, centre[None].copy(), radius[None].copy())
    return LogShape(z, centre, radius, np.full_like(radius, bark), rings)


def solid(length: float, radius_at: Callable[[Array], Array], n: int = 61, m: int = 180) -> LogShape:
    z = np.linspace(0.0, length, n)
    return shaped(z, np.zeros((n, 2)), np.repeat(radius_at(z)[:, None], m, axis=1))


def inscribed(m: int) -> float:
    """Area of a regular m-corner over the area of its circle: the only error a round solid may have."""
    return m / (2 * np.pi) * np.sin(2 * np.pi / m)


@given(st.floats(0.05, 0.6), st.floats(0.05, 0.6), st.floats(0.5, 8.0))
def test_a_cone_frustum_is_exact_between_two_stations(butt: float, top: float, length: float) -> None:
    cone = solid(length, lambda z: butt + (top - butt) * z / length, n=2, m=36)
    exact = np.pi * length * (butt**2 + butt * top + top**2) / 3
    assert volume_of(cone, bark=False) == pytest.approx(exact * inscribed(36), rel=1e-12)


def test_an_eight_cornered_twist_between_stations_is_exact_too() -> None:
    # independent reference: slice the straight lines a thousand times and add up shoelace areas
    rng = np.random.default_rng(7)
    z = np.array([0.0, 0.7, 1.9])
    shape = shaped(z, rng.normal(0, 0.05, (3, 2)), rng.uniform(0.15, 0.3, (3, 8)))
    surface = shape.surface(bark=False)
    total = 0.0
    for i in range(2):
        for t in (np.arange(1000) + 0.5) / 1000:
            p = (1 - t) * surface[i] + t * surface[i + 1]
            area = 0.5 * abs(np.dot(p[:, 0], np.roll(p[:, 1], -1)) - np.dot(p[:, 1], np.roll(p[:, 0], -1)))
            total += area * (z[i + 1] - z[i]) / 1000
    # midpoint rule with 1000 slices: relative error about 1e-7
    assert volume_of(shape, bark=False) == pytest.approx(total, rel=1e-6)


def test_paraboloid_and_neiloid_have_their_textbook_volumes() -> None:
    # A L/2 and A L/4 (textbook, from memory); straight lines between 61 stations leave about 1e-4
    top = 1e-6
    paraboloid = solid(6.0, lambda z: np.maximum(0.3 * np.sqrt(1 - z / 6.0), top))
    neiloid = solid(6.0, lambda z: np.maximum(0.3 * (1 - z / 6.0) ** 1.5, top))
    base = circle_area(0.6) * 6.0
    assert volume_of(paraboloid, bark=False) == pytest.approx(base / 2, rel=1e-3)
    assert volume_of(neiloid, bark=False) == pytest.approx(base / 4, rel=1e-3)


def test_a_sheared_column_keeps_its_volume_and_balances_at_mid_height() -> None:
    z = np.linspace(0, 4, 9)
    centre = np.stack([0.1 * z, -0.05 * z], axis=1)
    column = shaped(z, centre, np.full((9, 72), 0.2))
    assert volume_of(column, bark=False) == pytest.approx(np.pi * 0.04 * 4 * inscribed(72), rel=1e-12)
    assert balance(column, bark=False) == pytest.approx((0.2, -0.1, 2.0), abs=1e-12)


def test_a_cone_balances_at_a_quarter_of_its_height() -> None:
    cone = solid(3.0, lambda z: 0.3 * np.maximum(1 - z / 3.0, 1e-9), n=2)
    assert balance(cone, bark=False) == pytest.approx((0.0, 0.0, 0.75), abs=1e-6)


@given(st.floats(0.001, 0.05))
def test_bark_adds_volume(bark: float) -> None:
    z = np.linspace(0, 3, 4)
    log = shaped(z, np.zeros((4, 2)), np.full((4, 36), 0.2), bark)
    wood, whole = volume_of(log, bark=False), volume_of(log, bark=True)
    assert whole / wood == pytest.approx(((0.2 + bark) / 0.2) ** 2, rel=1e-12)


def test_the_formulas_give_the_published_coefficients() -> None:
    # V [ft3] = 0.002727 (Dl2 + Ds2) L (seen in the Forest Service routines); 0.005454 D2 L (memory); printed to 4 figures
    large, small, length = circle_area(20 * INCH_M), circle_area(14 * INCH_M), 12 * FOOT_M
    assert smalian(large, small, length) / FOOT_M**3 == pytest.approx(0.002727 * (20**2 + 14**2) * 12, rel=2e-4)
    assert huber(small, length) / FOOT_M**3 == pytest.approx(0.005454 * 14**2 * 12, rel=2e-4)


@pytest.mark.parametrize("power", [0, 1, 2, 3])
def test_newton_is_right_for_every_standard_solid(power: int) -> None:
    # section area (1 - z/L)^power, cut off at 0.8 L: cylinder, paraboloid, cone, neiloid
    def area(t: float) -> float:
        return float((1 - t) ** power)

    exact = (1 - 0.2 ** (power + 1)) / (power + 1)
    assert newton(area(0), area(0.4), area(0.8), 0.8) == pytest.approx(exact, rel=1e-12)


def test_smalian_overstates_and_huber_understates_a_flared_butt() -> None:
    flared = solid(3.0, lambda z: 0.2 + 0.12 * np.exp(-z / 0.4))
    area = areas(flared.surface(bark=False)[..., :2])
    true = volume_of(flared, bark=False)
    assert smalian(area[0], area[-1], 3.0) > 1.2 * true
    assert huber(area[30], 3.0) < true
