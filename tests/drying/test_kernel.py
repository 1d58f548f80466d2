"""The compiled kernel equals the readable reference; water and heat balance; an independent solver finds the same."""

from __future__ import annotations

import ast
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.sparse import diags

import waney.drying.kernel
from waney.drying import reference
from waney.drying.air import DAY, HOUR, AirState, air_steps
from waney.drying.board import Drying, dry, evenly
from waney.drying.grid import grid
from waney.drying.kernel import course
from waney.drying.kernel.records import AirSteps
from waney.drying.law import law_of
from waney.drying.pace import Pace
from waney.wood.diffusion import REFERENCE_C, across_grain, warmth
from waney.wood.film import latent_heat
from waney.wood.sorption import humidity_over, saturation_moisture
from waney.wood.vapour import saturation_pressure

FOLDER = Path(waney.drying.kernel.__file__).parent
ALLOWED = {"__future__", "math", "typing", "numpy", "numpy.typing", "waney.figures.compiled"}


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda p: p.name)
def test_kernel_module_stands_alone(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.module in ALLOWED or str(node.module).startswith("waney.drying.kernel.")


def test_latent_heat_is_one_line() -> None:
    assert latent_heat(40.0) == course.LATENT - course.LATENT_PER_K * 40.0
    assert latent_heat(40.0) == reference.LATENT - reference.LATENT_PER_K * 40.0


def drawn_air(rng: np.random.Generator, count: int) -> AirSteps:
    def state() -> AirState:
        return AirState(rng.uniform(-10, 70), rng.uniform(0.2, 0.98), rng.uniform(0, 3))

    return air_steps((rng.uniform(0.5 * HOUR, 3 * DAY), state()) for _ in range(count))


@pytest.mark.parametrize("seed", range(12))
def test_kernel_agrees_with_reference(seed: int) -> None:
    rng = np.random.default_rng(seed)
    nodes = grid(int(rng.integers(5, 25)), rng.uniform(1.0, 1.3))
    gravity = rng.uniform(0.3, 0.8)
    law = law_of(gravity, Pace(free=rng.uniform(1, 6)))
    piece = Drying(
        rng.uniform(0.01, 0.1), gravity, law, evenly(rng.uniform(0.05, 1.2), nodes), nodes=nodes, factor=rng.uniform(0.3, 3)
    )
    air = drawn_air(rng, 6)
    rows, last = reference.run(nodes, law, air, piece.body, piece.moistures, piece.temperature_c, 1e-4)
    found = dry(piece, air, tolerance=1e-4)
    assert found.mean == pytest.approx(rows[:, 0], rel=1e-9)
    assert found.temperature_c == pytest.approx(rows[:, 1], rel=1e-9)
    assert found.end.moistures == pytest.approx(last, rel=1e-8)


@pytest.mark.parametrize("seed", range(8))
def test_water_and_heat_balance_to_round_off(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    nodes = grid()
    piece = Drying(rng.uniform(0.01, 0.1), 0.5, law_of(0.5, Pace()), evenly(rng.uniform(0.1, 1.2), nodes), nodes=nodes)
    found = dry(piece, drawn_air(rng, 8))
    before = np.concatenate(([piece.mean], found.mean[:-1]))
    dry_kg = 500.0 * piece.thickness_m / 2
    lost = np.diff(np.concatenate(([0.0], found.left_kg_m2)))
    assert lost == pytest.approx((before - found.mean) * dry_kg, abs=1e-12)
    # stored heat changes by what came less what evaporation took
    was = np.concatenate(([piece.temperature_c], found.temperature_c[:-1]))
    stored = dry_kg * (piece.body.capacity + course.WATER_CAPACITY * before) * (found.temperature_c - was)
    came = np.diff(np.concatenate(([0.0], found.heat_j_m2)))
    taken = np.array([latent_heat(t) for t in was]) * lost
    assert stored == pytest.approx(came - taken, rel=1e-9, abs=1e-6 * np.abs(came).max())


def held_air(states: list[tuple[float, float, float]]) -> AirSteps:
    """Air whose heat never fails: the piece is always as warm as it. (seconds, temperature, humidity)"""
    air = air_steps((seconds, AirState(t, h, 1.0)) for seconds, t, h in states)
    return air._replace(heat=np.full(len(states), 1e7))


class Sheet:
    """Half a thickness in cells of equal width in one air; coefficients straight from the published formula, no table of ours."""

    def __init__(self, width: float, gravity: float, pace: Pace, t: float, vapour: float, resistance: float) -> None:
        self.width, self.density, self.vapour, self.resistance = width, 1000.0 * gravity, vapour, resistance
        self.fine = np.linspace(0.0, 0.45, 9001)
        d = warmth(t) * across_grain(self.fine, REFERENCE_C, gravity)
        full = pace.factor(gravity) * np.where(self.fine > saturation_moisture(t), pace.free * d, d)
        self.potential = np.concatenate(([0.0], np.cumsum(0.5 * np.diff(self.fine) * (full[1:] + full[:-1]))))
        self.last = full[-1]
        self.out = (humidity_over(self.fine, t) * saturation_pressure(t) - vapour) / resistance / self.density

    def carried(self, m: np.ndarray) -> np.ndarray:
        return np.asarray(np.interp(m, self.fine, self.potential) + np.maximum(m - self.fine[-1], 0.0) * self.last)

    def leaving(self, outer: float) -> float:
        """Film and half a cell in series: the surface's moisture is where both carry the same."""
        excess = self.out - (float(self.carried(np.array([outer]))[0]) - self.potential) / (self.width / 2)
        at = int(np.argmax(excess > 0.0))
        if excess[at] <= 0.0:  # wetter than the table: the film alone rules, at humidity 1
            return float(self.out[-1])
        share = -excess[at - 1] / (excess[at] - excess[at - 1]) if at else 0.0
        return float(self.out[max(at - 1, 0)] + share * (self.out[at] - self.out[max(at - 1, 0)]))

    def rates(self, _: float, m: np.ndarray) -> np.ndarray:
        flow = np.concatenate(([self.leaving(m[0])], np.diff(self.carried(m)) / self.width, [0.0]))
        return np.asarray(np.diff(flow) / self.width)


def by_bdf(cells: int, thickness: float, gravity: float, pace: Pace, mc: float, air: AirSteps, rtol: float) -> np.ndarray:
    """Mean moisture after every interval, by scipy's BDF."""
    y, means = np.full(cells, mc), []
    sparse = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(cells, cells))  # type: ignore[list-item]
    for seconds, vapour, resistance, t in zip(air.seconds, air.vapour, air.resistance, air.source, strict=True):
        sheet = Sheet(thickness / 2 / cells, gravity, pace, t, vapour, resistance)
        found = solve_ivp(sheet.rates, (0.0, seconds), y, method="BDF", rtol=rtol, atol=1e-8, jac_sparsity=sparse)
        y = found.y[:, -1]
        means.append(y.mean())
    return np.array(means)


def test_an_independent_solver_finds_the_same_with_a_real_law_and_changing_air() -> None:
    air = held_air(
        [(4 * DAY, 20.0, 0.75), (5 * DAY, 35.0, 0.6), (5 * DAY, 45.0, 0.4), (3 * DAY, 50.0, 0.65), (4 * DAY, 60.0, 0.3)]
    )
    pace = Pace(level=0.5, free=3.0)
    nodes = grid(40, 1.08)
    piece = Drying(0.04, 0.5, law_of(0.5, pace), evenly(0.7, nodes), nodes=nodes)
    found = dry(piece, air, tolerance=1e-6)
    independent = by_bdf(80, 0.04, 0.5, pace, 0.7, air, 1e-5)
    # 80 cells and the tables (steps of 0.5 % and 2.5 °C) together: a fifth of a per cent of moisture
    assert found.mean == pytest.approx(independent, abs=0.002)
    assert found.mean[-1] < 0.2 < found.mean[0]


@pytest.mark.parametrize("humidity_of_wood", [1.0, 0.9, 0.7])
@pytest.mark.parametrize("air", [AirState(20.0, 0.5, 0.5), AirState(55.0, 0.6, 1.5), AirState(70.0, 0.3, 2.0)])
def test_the_chord_of_the_saturation_line_gives_the_exact_balance_of_heat(air: AirState, humidity_of_wood: float) -> None:
    # exact: k (h p_sat(T) - p_v) latent = film (T_air - T); the table of pressures has a line a degree
    steps = air_steps([(HOUR, air)])
    latent, law = latent_heat(air.temperature_c), law_of(0.5, Pace())
    at_source, g = course.surface(
        law, air.temperature_c, air.vapour_pa, steps.resistance[0], steps.heat[0] / latent, humidity_of_wood
    )
    found, _ = course.leaving(humidity_of_wood, at_source, air.vapour_pa, steps.resistance[0], g)

    def excess(t: float) -> float:
        return (humidity_of_wood * saturation_pressure(t) - air.vapour_pa) / steps.resistance[0] - steps.heat[0] * (
            air.temperature_c - t
        ) / latent

    exact = steps.heat[0] * (air.temperature_c - brentq(excess, 0.0, air.temperature_c)) / latent
    assert found == pytest.approx(exact, rel=1e-3)
