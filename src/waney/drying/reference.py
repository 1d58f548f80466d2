"""The drying kernel once more, to be read: whole arrays, dense matrices, nothing reused. Slow; tests hold the kernel to it."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

import numpy as np

from waney.drying.kernel.records import AirSteps, Array, Body, Grid, Law

LATENT, LATENT_PER_K, WATER_CAPACITY = 2.501e6, 2360.0, 4180.0
STAGES = ((), (4.0,), (1.0, -1.0), (1.0, -1.0, -8.0 / 3.0))
"""RODAS3: how much of the earlier stages, over h, each stage's right side takes."""
POINTS = ((), (), (2.0,), (2.0, 0.0, 1.0))
"""Where each stage looks: y plus so much of the earlier ones."""
WEIGHTS = (2.0, 0.0, 1.0, 1.0)


@dataclass(frozen=True)
class Edge:
    """The surface during one interval: letters as in `kernel.course`."""

    at_source: float
    vapour: float
    resistance: float
    g: float
    saturated: float
    total: float


@dataclass(frozen=True)
class Wood:
    """The law at one temperature."""

    spacing: float
    d: Array
    h: Array

    def diffusion(self, y: Array) -> Array:
        """D at each moisture, constant outside the table."""
        return np.interp(y, self.spacing * np.arange(self.d.size), self.d)

    def potential(self, y: Array) -> Array:
        """Integral of D from 0 to each moisture: D is straight between the columns, so the trapezoid is exact."""
        knots = self.spacing * np.arange(self.d.size)
        total = np.concatenate(([0.0], np.cumsum(0.5 * self.spacing * (self.d[1:] + self.d[:-1]))))
        i = np.clip(np.searchsorted(knots, y, side="right") - 1, 0, knots.size - 1)
        return np.asarray(total[i] + (y - knots[i]) * 0.5 * (self.d[i] + self.diffusion(y)))

    def humidity(self, y: Array) -> Array:
        """Humidity in equilibrium; 1 past the table; a straight line below 0."""
        below = np.minimum(y, 0.0) * (self.h[1] - self.h[0]) / self.spacing
        return np.asarray(np.interp(y, self.spacing * np.arange(self.h.size), self.h, right=1.0) + below)

    def humidity_slope(self, y: Array) -> Array:
        """Its slope, that of the piece of the table that y lies in."""
        slopes = np.append(np.diff(self.h) / self.spacing, 0.0)
        return np.asarray(slopes[np.clip((y / self.spacing).astype(int), 0, slopes.size - 1)])


def at_temperature(law: Law, temperature: float, factor: float) -> Wood:
    """The law's rows about a temperature, mixed."""
    at = np.clip((temperature - law.coldest) / law.step, 0.0, law.potential.shape[0] - 1.000001)
    i, upper = int(at), at - int(at)
    mixed = [(1.0 - upper) * table[i] + upper * table[i + 1] for table in (law.diffusion, law.humidity)]
    return Wood(law.spacing, factor * mixed[0], mixed[1])


def pressure(law: Law, temperature: float) -> float:
    """Saturation pressure [Pa]."""
    return exp(float(np.interp(temperature, law.coldest + np.arange(law.pressures.size), law.pressures)))


def surface_flow(edge: Edge, wood: Wood, y: Array) -> float:
    """Water through the surface [kg/(m2 s)]."""
    h = float(wood.humidity(y[:1])[0])
    return (h * edge.at_source - edge.vapour) / (edge.resistance + h * edge.g)


def seep(edge: Edge, wood: Wood, y: Array, body: Body) -> Array:
    """Vapour out along the grain [kg/(m3 s)] at every node."""
    inside = np.maximum(wood.humidity(y) * edge.saturated, edge.total)
    return np.asarray(body.seep * (inside**2 - edge.total**2))


def inflow(grid: Grid, body: Body, edge: Edge, wood: Wood, y: Array) -> Array:
    """Net inflow of every control volume [m/s]."""
    flow = np.diff(wood.potential(y)) / (grid.gaps * body.half)
    net = np.concatenate((flow, [0.0])) - np.concatenate(([0.0], flow))
    net[0] -= surface_flow(edge, wood, y) / body.density
    return np.asarray(net - seep(edge, wood, y, body) * grid.volumes * body.half / body.density)


def jacobian(grid: Grid, body: Body, edge: Edge, wood: Wood, y: Array) -> Array:
    """Change of `inflow` with the moisture of every node, (n, n)."""
    n = y.size
    c, d = 1.0 / (grid.gaps * body.half), wood.diffusion(y)
    matrix = np.zeros((n, n))
    for i in range(n - 1):
        matrix[i, i] -= c[i] * d[i]
        matrix[i + 1, i + 1] -= c[i] * d[i + 1]
        matrix[i, i + 1] += c[i] * d[i + 1]
        matrix[i + 1, i] += c[i] * d[i]
    h, slope = wood.humidity(y), wood.humidity_slope(y)
    matrix[0, 0] -= (
        (edge.at_source * edge.resistance + edge.vapour * edge.g)
        / (edge.resistance + h[0] * edge.g) ** 2
        * slope[0]
        / body.density
    )
    pressing = h * edge.saturated > edge.total
    rise = np.where(pressing, body.seep * 2.0 * h * edge.saturated**2 * slope, 0.0)
    return matrix - np.diag(rise * grid.volumes * body.half / body.density)


def solved(matrix: Array, right: Array) -> Array:
    """The dense system's solution."""
    return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)


def step(grid: Grid, body: Body, edge: Edge, wood: Wood, y: Array, h: float) -> tuple[Array, float]:
    """One step of RODAS3: the new moistures and the error in the mean square."""
    volumes = grid.volumes * body.half
    matrix = np.diag(volumes / (0.5 * h)) - jacobian(grid, body, edge, wood, y)
    k: list[Array] = []
    for mixed, point in zip(STAGES, POINTS, strict=True):
        at = y + sum((a * ki for a, ki in zip(point, k, strict=False)), np.zeros_like(y))
        earlier = sum((c * ki for c, ki in zip(mixed, k, strict=False)), np.zeros_like(y))
        k.append(solved(matrix, inflow(grid, body, edge, wood, at) + volumes * earlier / h))
    new = y + sum((w * ki for w, ki in zip(WEIGHTS, k, strict=True)), np.zeros_like(y))
    return new, float(np.sqrt(grid.volumes @ k[3] ** 2))


def surface_settles(law: Law, source: float, vapour: float, resistance: float, heat_per_latent: float, h: float) -> float:
    """Where a surface of humidity h settles [°C], by bracketing."""
    low, high = law.coldest, law.coldest + law.pressures.size - 1.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        too_hot = h * pressure(law, middle) - vapour > resistance * heat_per_latent * (source - middle)
        low, high = (low, middle) if too_hot else (middle, high)
    return 0.5 * (low + high)


def edge_at(law: Law, source: float, vapour: float, resistance: float, total: float, heat_per_latent: float, h: float) -> Edge:
    """The surface against one source of heat; the pressure inside is filled in by the caller."""
    at = surface_settles(law, source, vapour, resistance, heat_per_latent, h)
    at = source - 0.01 if abs(source - at) < 0.01 else at
    at_source = pressure(law, source)
    g = (at_source - pressure(law, at)) / ((source - at) * heat_per_latent)
    return Edge(at_source, vapour, resistance, g, 0.0, total)


def run(
    grid: Grid, law: Law, air: AirSteps, body: Body, moistures: Array, temperature: float, tolerance: float
) -> tuple[Array, Array]:
    """Mean moisture and temperature after every interval, (t, 2), and the last moistures, (n,). For pieces without seeping."""
    y, h, rows = moistures.copy(), float(air.seconds[0]), []
    wood = at_temperature(law, temperature, body.factor)
    for seconds, vapour, resistance, heat_of_air, source_c, total in zip(*air, strict=True):
        latent = LATENT - LATENT_PER_K * temperature
        stored = body.half * body.density * (body.capacity + WATER_CAPACITY * float(grid.volumes @ y))
        heat = heat_of_air + stored / seconds
        source = (heat_of_air * source_c + stored / seconds * temperature) / heat
        edge = edge_at(law, source, vapour, resistance, total, heat / latent, float(wood.humidity(y[:1])[0]))
        inside = source - surface_flow(edge, wood, y) * latent / heat
        wood = at_temperature(law, inside, body.factor)
        before = float(grid.volumes @ y)
        y, h = through(grid, body, edge, wood, y, seconds, h, tolerance)
        water = (before - float(grid.volumes @ y)) * body.half * body.density
        temperature = (heat_of_air * seconds * source_c + stored * temperature - latent * water) / (
            heat_of_air * seconds + stored
        )
        rows.append((float(grid.volumes @ y), temperature))
    return np.array(rows), y


def through(
    grid: Grid, body: Body, edge: Edge, wood: Wood, y: Array, seconds: float, h: float, tolerance: float
) -> tuple[Array, float]:
    """One interval with steps as long as the error allows; the moistures and the next step."""
    gone = 0.0
    while gone < seconds:
        now = min(h, seconds - gone)
        new, error = step(grid, body, edge, wood, y, now)
        ratio = (error / tolerance) ** (1.0 / 3.0)
        grown = now * min(5.0, max(0.2, 0.9 / max(ratio, 1e-9)))
        if ratio <= 1.0 or now <= 1e-6 * seconds:
            y, gone = new, seconds if now >= seconds - gone else gone + now
            h = max(grown, h) if now < h else grown
        else:
            h = grown
    return y, h
