"""One piece through a series of intervals: RODAS3 in time, control volumes through the thickness, one tridiagonal system.

Letters: y moisture at the nodes, p potential, d diffusion coefficient at the nodes, k1..k4 stages, q flow through the
surface [kg/(m2 s)], g resistance by heat (see `surface`). Everything per square metre of face and for one half.
"""

from __future__ import annotations

from math import exp, sqrt

import numpy as np

from waney.drying.kernel.records import CORE, HEAT, LEFT, MEAN, SURFACE, TEMPERATURE, AirSteps, Array, Body, Grid, Law
from waney.figures.compiled import compiled

GAMMA = 0.5
"""RODAS3: Sandu and others, Benchmarking stiff ODE solvers for atmospheric chemistry II (1997), from memory; tests hold it to
exact solutions."""
LATENT, LATENT_PER_K = 2.501e6, 2360.0
"""Heat of vaporisation [J/kg] and its fall [J/(kg K)]: the same line as `wood.film.latent_heat` (a test holds them together)."""
WATER_CAPACITY = 4180.0
LEAST_STEP = 1e-6
"""A step shorter than this share of its interval is accepted as it is."""


@compiled
def pressure_at(law: Law, temperature: float) -> float:
    """Saturation pressure [Pa] from the table of logarithms; held at its ends."""
    at = min(max(temperature - law.coldest, 0.0), law.pressures.size - 1.000001)
    i = int(at)
    return exp(law.pressures[i] + (at - i) * (law.pressures[i + 1] - law.pressures[i]))


@compiled
def mix(law: Law, temperature: float, factor: float, column: Array) -> None:
    """Potential, diffusion and humidity at one temperature into `column` (3, k), by a straight line between two rows."""
    at = min(max((temperature - law.coldest) / law.step, 0.0), law.potential.shape[0] - 1.000001)
    i = int(at)
    upper = at - i
    lower = 1.0 - upper
    for j in range(column.shape[1]):
        column[0, j] = factor * (lower * law.potential[i, j] + upper * law.potential[i + 1, j])
        column[1, j] = factor * (lower * law.diffusion[i, j] + upper * law.diffusion[i + 1, j])
        column[2, j] = lower * law.humidity[i, j] + upper * law.humidity[i + 1, j]


@compiled
def carried(column: Array, spacing: float, y: float) -> tuple[float, float]:
    """Potential and diffusion coefficient at moisture y: D straight between columns, constant beyond the last and below 0."""
    last = column.shape[1] - 1
    if y <= 0.0:
        return column[1, 0] * y, column[1, 0]
    if y >= last * spacing:
        return column[0, last] + column[1, last] * (y - last * spacing), column[1, last]
    i = int(y / spacing)
    beyond = y - i * spacing
    rise = (column[1, i + 1] - column[1, i]) / spacing
    return column[0, i] + beyond * (column[1, i] + 0.5 * rise * beyond), column[1, i] + rise * beyond


@compiled
def humidity_at(column: Array, spacing: float, y: float) -> tuple[float, float]:
    """Humidity in equilibrium with moisture y, and its slope."""
    last = column.shape[1] - 1
    if y >= last * spacing:
        return 1.0, 0.0
    i = max(int(y / spacing), 0)
    slope = (column[2, i + 1] - column[2, i]) / spacing
    return column[2, i] + slope * (y - i * spacing), slope


@compiled
def surface_settles(law: Law, source: float, vapour: float, resistance: float, heat_per_latent: float, h: float) -> float:
    """Temperature that a surface of humidity h settles at [°C]: wet, the wet bulb of this film; without film, its boiling point.

    Newton's method: the excess of vapour over heat rises ever more steeply with temperature, so it cannot lose its way.
    """
    highest = law.coldest + law.pressures.size - 1.0
    t = source
    for _ in range(60):
        p = h * pressure_at(law, t)
        i = int(min(max(t - law.coldest, 0.0), law.pressures.size - 1.000001))
        slope = p * (law.pressures[i + 1] - law.pressures[i]) + resistance * heat_per_latent
        change = (p - vapour - resistance * heat_per_latent * (source - t)) / slope
        t = min(max(t - change, law.coldest), highest)
        if abs(change) < 1e-10:
            break
    return t


@compiled
def surface(law: Law, source: float, vapour: float, resistance: float, heat_per_latent: float, h: float) -> tuple[float, float]:
    """Saturation pressure at the source's temperature [Pa], and g: slope of the chord over heat per latent heat [m2 s Pa/kg].

    The chord runs to where a surface of humidity h settles, so that the flow is exact for h and near it for others.
    """
    at = surface_settles(law, source, vapour, resistance, heat_per_latent, h)
    if abs(source - at) < 0.01:
        at = source - 0.01
    at_source = pressure_at(law, source)
    return at_source, (at_source - pressure_at(law, at)) / ((source - at) * heat_per_latent)


@compiled
def leaving(h: float, at_source: float, vapour: float, resistance: float, g: float) -> tuple[float, float]:
    """Flow through the surface at humidity h [kg/(m2 s)] and its rise with h."""
    below = resistance + h * g
    return (h * at_source - vapour) / below, (at_source * resistance + vapour * g) / (below * below)


@compiled
def seeping(h: float, slope: float, saturated: float, total: float, seep: float) -> tuple[float, float]:
    """Vapour that flows out along the grain [kg/(m3 s)] where it presses harder inside than the chamber, and its rise with y."""
    inside = h * saturated
    if inside <= total:
        return 0.0, 0.0
    return seep * (inside * inside - total * total), seep * 2.0 * inside * saturated * slope


@compiled
def inflow(
    y: Array,
    grid: Grid,
    body: Body,
    column: Array,
    spacing: float,
    edge: tuple[float, float, float, float, float, float],
    out: Array,
    d: Array,
    loss: Array,
) -> tuple[float, float, float]:
    """Net inflow of every control volume [m/s] into `out`; coefficients into `d`; rise of what seeps, (n,), into `loss`.

    edge: pressure at the source, vapour, resistance, g, saturation pressure inside, total pressure.
    Returns the surface flow over dry density [m/s], its rise with the surface's moisture, and what seeps [m/s].
    """
    at_source, vapour, resistance, g, saturated, total = edge
    n = y.size
    h, slope = humidity_at(column, spacing, y[0])
    q, rise = leaving(h, at_source, vapour, resistance, g)
    q, rise = q / body.density, rise * slope / body.density
    p, d[0] = carried(column, spacing, y[0])
    out[0] = -q
    for i in range(1, n):
        next_p, d[i] = carried(column, spacing, y[i])
        flow = (next_p - p) / (grid.gaps[i - 1] * body.half)
        out[i - 1] += flow
        out[i] = -flow
        p = next_p
    seeped = 0.0
    if body.seep > 0.0:
        for i in range(n):
            h, slope = humidity_at(column, spacing, y[i])
            s, s_rise = seeping(h, slope, saturated, total, body.seep)
            volume = grid.volumes[i] * body.half / body.density
            out[i] -= s * volume
            loss[i] = s_rise * volume
            seeped += s * volume
    return q, rise, seeped


@compiled
def factorise(
    h: float, grid: Grid, half: float, d: Array, loss: Array, rise: float, lower: Array, diagonal: Array, upper: Array
) -> None:
    """The system volume/(gamma h) - Jacobian as L and U: multipliers in `lower`, pivots in `diagonal`, the rest in `upper`."""
    n = d.size
    for i in range(n):
        diagonal[i] = grid.volumes[i] * half / (GAMMA * h) + loss[i]
    diagonal[0] += rise
    for i in range(n - 1):
        c = 1.0 / (grid.gaps[i] * half)
        diagonal[i] += c * d[i]
        diagonal[i + 1] += c * d[i + 1]
        upper[i] = -c * d[i + 1]
        lower[i] = -c * d[i]
    for i in range(n - 1):
        lower[i] /= diagonal[i]
        diagonal[i + 1] -= lower[i] * upper[i]


@compiled
def solve(lower: Array, diagonal: Array, upper: Array, x: Array) -> None:
    """Solve L U x = x in place."""
    n = x.size
    for i in range(1, n):
        x[i] -= lower[i - 1] * x[i - 1]
    x[n - 1] /= diagonal[n - 1]
    for i in range(n - 2, -1, -1):
        x[i] = (x[i] - upper[i] * x[i + 1]) / diagonal[i]


@compiled
def step(
    y: Array,
    h: float,
    grid: Grid,
    body: Body,
    column: Array,
    spacing: float,
    edge: tuple[float, float, float, float, float, float],
    work: Array,
    new: Array,
) -> tuple[float, float, float]:
    """One step of h seconds from y into `new`. Returns the error [-], and water that left by the surface and by the ends
    [m: kg/m2 over dry density], counted from the flows of the stages and not from what the cells lost.

    work: (10, n) scratch.
    """
    n = y.size
    f, d, loss, lower, diagonal, upper = work[0], work[1], work[2], work[3], work[4], work[5]
    k1, k2, k3, k4 = work[6], work[7], work[8], work[9]
    half = body.half
    for i in range(n):
        loss[i] = 0.0
    q, rise, seeped = inflow(y, grid, body, column, spacing, edge, f, d, loss)
    factorise(h, grid, half, d, loss, rise, lower, diagonal, upper)
    gh = GAMMA * h
    k1[:] = f
    solve(lower, diagonal, upper, k1)
    q1 = gh * (q + rise * k1[0])
    s1 = gh * (seeped + _dot(loss, k1))
    for i in range(n):
        k2[i] = f[i] + 4.0 / h * grid.volumes[i] * half * k1[i]
    solve(lower, diagonal, upper, k2)
    q2 = gh * (q + rise * k2[0] + 4.0 / h * q1)
    s2 = gh * (seeped + _dot(loss, k2) + 4.0 / h * s1)
    # d and loss of the later stages are thrown away: the Jacobian is that of the step's start
    for i in range(n):
        new[i] = y[i] + 2.0 * k1[i]
    q, _, seeped = inflow(new, grid, body, column, spacing, edge, f, d, k4)
    for i in range(n):
        k3[i] = f[i] + grid.volumes[i] * half * (k1[i] - k2[i]) / h
    solve(lower, diagonal, upper, k3)
    q3 = gh * (q + rise * k3[0] + (q1 - q2) / h)
    s3 = gh * (seeped + _dot(loss, k3) + (s1 - s2) / h)
    for i in range(n):
        new[i] += k3[i]
    q, _, seeped = inflow(new, grid, body, column, spacing, edge, f, d, k4)
    for i in range(n):
        k4[i] = f[i] + grid.volumes[i] * half * (k1[i] - k2[i] - 8.0 / 3.0 * k3[i]) / h
    solve(lower, diagonal, upper, k4)
    q4 = gh * (q + rise * k4[0] + (q1 - q2 - 8.0 / 3.0 * q3) / h)
    s4 = gh * (seeped + _dot(loss, k4) + (s1 - s2 - 8.0 / 3.0 * s3) / h)
    error = 0.0
    for i in range(n):
        new[i] += k4[i]
        error += grid.volumes[i] * k4[i] * k4[i]
    return sqrt(error), 2.0 * q1 + q3 + q4, 2.0 * s1 + s3 + s4


@compiled
def _dot(a: Array, b: Array) -> float:
    total = 0.0
    for i in range(a.size):
        total += a[i] * b[i]
    return total


@compiled
def moisture_mean(grid: Grid, y: Array) -> float:
    """Mean over the thickness [-]."""
    return _dot(grid.volumes, y)


@compiled
def seep_total(law: Law, grid: Grid, body: Body, column: Array, y: Array, temperature: float, total: float) -> float:
    """Vapour that flows out along the grain of half a piece [kg/(m2 s)] at one temperature."""
    saturated = pressure_at(law, temperature)
    flow = 0.0
    for i in range(y.size):
        h, slope = humidity_at(column, law.spacing, y[i])
        flow += seeping(h, slope, saturated, total, body.seep)[0] * grid.volumes[i] * body.half
    return flow


@compiled
def settled(
    law: Law,
    grid: Grid,
    body: Body,
    column: Array,
    y: Array,
    source: float,
    heat: float,
    latent: float,
    air: tuple[float, float, float],
) -> tuple[float, float, float]:
    """Temperature at which heat and water balance with the moistures as they are [°C], pressure at the source less what seeping
    takes [Pa], and g. air: vapour, resistance, total."""
    vapour, resistance, total = air
    h = humidity_at(column, law.spacing, y[0])[0]
    low, high = law.coldest, source
    for _ in range(40 if body.seep > 0.0 else 1):
        guess = 0.5 * (low + high) if body.seep > 0.0 else source
        seeped = seep_total(law, grid, body, column, y, guess, total) if body.seep > 0.0 else 0.0
        left = source - seeped * latent / heat
        at_source, g = surface(law, left, vapour, resistance, heat / latent, h)
        at = left - leaving(h, at_source, vapour, resistance, g)[0] * latent / heat
        if at > guess:
            low = guess
        else:
            high = guess
    return at, at_source, g


@compiled
def run(
    grid: Grid,
    law: Law,
    air: AirSteps,
    body: Body,
    y: Array,
    temperature: float,
    stop_at: float,
    tolerance: float,
    out: Array,
    profiles: Array,
) -> int:
    """Take the moistures `y` (changed in place) through the intervals; returns how many were gone through.

    It stops after the interval in which the mean falls to `stop_at`. out: (t, COLUMNS); profiles: (t, n) or (0, n).
    tolerance: error a step may make in the mean square of moisture [-].
    """
    n = y.size
    column = np.zeros((3, law.potential.shape[1]))
    work = np.zeros((11, n))
    new = work[10]
    left_by_face = left_by_ends = heat_given = 0.0
    h = air.seconds[0]
    mix(law, temperature, body.factor, column)
    for t in range(air.seconds.size):
        seconds, resistance = air.seconds[t], air.resistance[t]
        latent = LATENT - LATENT_PER_K * temperature
        stored = body.half * body.density * (body.capacity + WATER_CAPACITY * moisture_mean(grid, y))
        heat = air.heat[t] + stored / seconds
        source = (air.heat[t] * air.source[t] + stored / seconds * temperature) / heat
        at, at_source, g = settled(law, grid, body, column, y, source, heat, latent, (air.vapour[t], resistance, air.total[t]))
        mix(law, at, body.factor, column)
        edge = (at_source, air.vapour[t], resistance, g, pressure_at(law, at), air.total[t])
        gone, faces, ends = 0.0, 0.0, 0.0
        while gone < seconds:
            now = min(h, seconds - gone)
            error, by_face, by_ends = step(y, now, grid, body, column, law.spacing, edge, work, new)
            ratio = (error / tolerance) ** (1.0 / 3.0)
            grown = now * min(5.0, max(0.2, 0.9 / max(ratio, 1e-9)))
            if ratio <= 1.0 or now <= LEAST_STEP * seconds:
                y[:] = new
                gone = seconds if now >= seconds - gone else gone + now
                faces += by_face
                ends += by_ends
                h = max(grown, h) if now < h else grown  # a step cut short by the interval's end says nothing about h
            else:
                h = grown
        left_by_face += faces * body.density
        left_by_ends += ends * body.density
        cooled = latent * (faces + ends) * body.density
        after = (air.heat[t] * seconds * air.source[t] + stored * temperature - cooled) / (air.heat[t] * seconds + stored)
        heat_given += air.heat[t] * seconds * (air.source[t] - after)
        temperature = after
        out[t, MEAN], out[t, SURFACE], out[t, CORE] = moisture_mean(grid, y), y[0], y[n - 1]
        out[t, TEMPERATURE], out[t, LEFT], out[t, HEAT] = temperature, left_by_face + left_by_ends, heat_given
        if profiles.shape[0] > 0:
            profiles[t, :] = y
        if out[t, MEAN] <= stop_at:
            return t + 1
    return air.seconds.size
