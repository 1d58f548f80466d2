"""Two dimensions: products of exact solutions, scikit-fem on a leaning edge, water balance, one dimension as a limit."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementTriP2, FacetBasis, MeshTri, asm
from skfem.helpers import dot, grad
from tests.drying import crank
from tests.drying.made import DENSITY, plain_air, plain_law

from waney.drying.air import DAY, AirState, air_steps
from waney.drying.board import Drying, dry, evenly
from waney.drying.grid import grid
from waney.drying.law import law_of
from waney.drying.pace import Pace, likely_pace
from waney.drying.section import BadSection, dry_section, live_edge, mapped, rectangle, short_piece
from waney.wood.diffusion import ease_along

TIMES = np.array([0.01, 0.03, 0.1, 0.3, 0.8])


@pytest.mark.parametrize("film", [0.5, 5.0, 100.0])
@pytest.mark.parametrize("width", [2.0, 5.0])
def test_a_rectangle_dries_as_the_product_of_two_sheets(film: float, width: float) -> None:
    section = rectangle(width, 2.0, (32, 32), 1.1)
    found = dry_section(
        section, plain_law(), DENSITY / 1000, plain_air(TIMES, film), np.full(section.volumes.size, 0.35), tolerance=1e-5
    )
    half = width / 2
    left = (1.0 - crank.dried(film, TIMES)) * (1.0 - crank.dried(film * half, TIMES / half**2))
    assert found.mean / 0.35 == pytest.approx(left, abs=2e-3)


def test_flow_along_the_grain_is_the_same_product_with_another_coefficient() -> None:
    along, half = 12.0, 4.0
    section = short_piece(2 * half, 2.0, along, cells=(32, 32))
    found = dry_section(
        section, plain_law(), DENSITY / 1000, plain_air(TIMES, 20.0), np.full(section.volumes.size, 0.35), tolerance=1e-5
    )
    left = (1.0 - crank.dried(20.0, TIMES)) * (1.0 - crank.dried(20.0 * half / along, along * TIMES / half**2))
    assert found.mean / 0.35 == pytest.approx(left, abs=4e-3)  # gaps grow 1.3 times here


def by_scikit_fem(slope: float, reach: float, film: float, bark: float, end: float, steps: int) -> float:
    """Fraction that left a leaning edge of thickness 1: quadratic triangles, backward Euler at first, then Crank-Nicolson."""
    corners = np.array([[0.0, reach, reach, -slope], [0.0, 0.0, 1.0, 1.0]])
    mesh = MeshTri(corners, np.array([[0, 1, 2], [0, 2, 3]]).T).refined(5)
    basis = Basis(mesh, ElementTriP2())
    stiff = asm(BilinearForm(lambda u, v, w: dot(grad(u), grad(v))), basis)
    mass = asm(BilinearForm(lambda u, v, w: u * v), basis)
    length = np.hypot(slope, 1.0)
    on_edge = mesh.facets_satisfying(lambda p: np.abs(p[0] + slope * p[1]) < 1e-9 * length, boundaries_only=True)
    on_faces = mesh.facets_satisfying(lambda p: (np.abs(p[1]) < 1e-9) | (np.abs(p[1] - 1.0) < 1e-9), boundaries_only=True)
    for facets, share in ((on_edge, film * bark), (on_faces, film)):
        stiff = stiff + share * asm(BilinearForm(lambda u, v, w: u * v), FacetBasis(mesh, ElementTriP2(), facets=facets))
    h = end / steps
    y = np.ones(mass.shape[0])
    euler, middle = splu((mass + h / 4 * stiff).tocsc()), splu((mass + h / 2 * stiff).tocsc())
    for _ in range(4):
        y = euler.solve(mass @ y)
    for _ in range(steps - 1):
        y = middle.solve((mass - h / 2 * stiff) @ y)
    total = np.ones(mass.shape[0]) @ mass
    return float(1.0 - (total @ y) / total.sum())


@pytest.mark.parametrize(("slope", "bark"), [(0.0, 1.0), (0.7, 1.0), (0.7, 0.0)])
def test_a_leaning_live_edge_agrees_with_scikit_fem(slope: float, bark: float) -> None:
    section = live_edge(1.0, slope, 2.5, bark, cells=(30, 33))
    found = dry_section(
        section,
        plain_law(),
        DENSITY / 1000,
        plain_air(np.array([0.05]), 6.0),
        np.full(section.volumes.size, 0.35),
        tolerance=1e-5,
    )
    assert 1.0 - found.mean[0] / 0.35 == pytest.approx(by_scikit_fem(slope, 2.5, 6.0, bark, 0.05, 200), abs=1e-3)


def test_water_balances_to_round_off() -> None:
    section = live_edge(0.06, 0.5, 0.2)
    air = air_steps([(2 * DAY, AirState(25, 0.5, 1.0)), (3 * DAY, AirState(40, 0.8, 1.0)), (2 * DAY, AirState(5, 0.9, 0.2))])
    start = np.full(section.volumes.size, 0.7)
    found = dry_section(section, law_of(0.5, Pace()), 0.5, air, start)
    lost = section.volumes @ (start - found.moistures) * 500.0
    assert found.left_kg_m == pytest.approx(lost, rel=1e-11)


def test_a_very_wide_rectangle_dries_as_a_board() -> None:
    air = air_steps([(DAY, AirState(30, 0.5, 1.0))] * 6)
    law = law_of(0.5, Pace(0.3))
    nodes = grid(16, 1.2)
    board = dry(Drying(0.05, 0.5, law, evenly(0.6, nodes), nodes=nodes), air)
    section = rectangle(50.0, 0.05)
    found = dry_section(section, law, 0.5, air, np.full(section.volumes.size, 0.6))
    assert found.mean == pytest.approx(board.mean, abs=1e-3)
    assert found.temperature_c == pytest.approx(board.temperature_c, abs=0.1)


def test_a_short_piece_dries_faster_than_a_long_one_and_coated_ends_slow_it() -> None:
    air = air_steps([(DAY, AirState(30, 0.5, 1.0))] * 12)
    pace = likely_pace()
    along = ease_along(0.5, 30.0)
    # published: 10 to 15 times and more (Siau 1984, memory)
    assert 5.0 < along < 50.0

    def mean(length: float, coated: float = 1.0) -> float:
        section = short_piece(length, 0.05, along, coated)
        law = law_of(0.5, Pace(free=pace.free))
        start = np.full(section.volumes.size, 0.6)
        return float(dry_section(section, law, 0.5, air, start, factor=pace.factor(0.5)).mean[-1])

    assert mean(0.1) < mean(0.3) < mean(2.0)
    assert mean(0.1) < mean(0.1, coated=0.05) < mean(2.0)


def test_an_outline_that_crosses_itself_is_refused() -> None:
    x, z = np.meshgrid([0.0, 1.0, 1.0], [0.0, 1.0])
    with pytest.raises(BadSection, match="enclose wood"):
        mapped(x, z, 1.0, (True, True, True, True))
