"""The solver against the exact solution of diffusion with a film on the surface, and how its error falls."""

from __future__ import annotations

import numpy as np
import pytest
from tests.drying import crank
from tests.drying.made import plain_air, plain_body, plain_law, start

from waney.drying.grid import grid
from waney.drying.kernel.course import run
from waney.drying.kernel.records import COLUMNS

FILMS = (0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 50.0, 100.0, 1000.0)
TIMES = np.array([0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.3, 1.0, 2.0])
LATE = TIMES >= 0.02


def dried(cells: int, ratio: float, film: float, tolerance: float = 1e-7) -> np.ndarray:
    nodes = grid(cells, ratio)
    out = np.zeros((TIMES.size, COLUMNS))
    run(nodes, plain_law(), plain_air(TIMES, film), plain_body(), start(nodes), 20.0, -1.0, tolerance, out, np.zeros((0, cells)))
    return np.asarray(1.0 - out[:, 0] / 0.35)


def test_the_exact_solution_has_its_known_limits() -> None:
    early = 2.0 * np.sqrt(np.array([1e-3, 1e-2]) / np.pi)  # half space without a film
    assert crank.dried(1e7, np.array([1e-3, 1e-2])) == pytest.approx(early, rel=2e-3)
    lumped = 1.0 - np.exp(-0.001 * np.array([100.0, 1000.0]))  # all resistance in the film
    assert crank.dried(0.001, np.array([100.0, 1000.0])) == pytest.approx(lumped, abs=5e-4)
    # Crank, table of roots: L = 1 has b1 = 0.8603 (memory)
    assert crank.roots(1.0, 1)[0] == pytest.approx(0.8603, abs=5e-5)
    assert crank.profile(2.0, 0.3, np.linspace(0, 1, 2001)).mean() == pytest.approx(
        1.0 - crank.dried(2.0, np.array([0.3]))[0], abs=1e-4
    )


def test_forty_graded_cells_follow_the_exact_solution() -> None:
    errors = np.array([dried(40, 1.08, film, 1e-5) - crank.dried(film, TIMES) for film in FILMS])
    assert np.abs(errors).mean() <= 1e-4
    assert np.abs(errors).max() <= 5e-4


@pytest.mark.parametrize("film", [0.5, 5.0, 50.0, 1000.0])
def test_error_falls_with_the_square_of_the_cell(film: float) -> None:
    exact = crank.dried(film, TIMES[LATE])
    errors = [np.abs(dried(cells, 1.0, film, 1e-8)[LATE] - exact).max() for cells in (20, 40, 80)]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert np.all((orders > 1.8) & (orders < 2.2))


def test_error_falls_with_the_tolerance_of_the_step_in_time() -> None:
    finest = dried(20, 1.1, 10.0, 1e-10)
    errors = [np.abs(dried(20, 1.1, 10.0, tolerance) - finest).max() for tolerance in (1e-4, 1e-5, 1e-6)]
    # third order with the error of the second-order answer held: error ~ tolerance, so a tenth each time, give or take
    assert errors[0] < 1e-3
    assert errors[1] < 0.4 * errors[0] and errors[2] < 0.4 * errors[1]
