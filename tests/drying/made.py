"""Laws and airs that other solutions are known for: one coefficient everywhere, humidity that rises straight with moisture."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from waney.drying.kernel.records import AirSteps, Array, Body, Grid, Law
from waney.drying.law import MOISTURES, TEMPERATURES, tabled

DENSITY = 500.0


def plain_law(diffusion: Callable[[Array], Array] = np.ones_like) -> Law:
    """D of moisture alone; humidity equal to moisture over 0.4, so that the film is linear; log p = 0 at every temperature,
    so that heat plays no part."""
    humidity = np.tile(MOISTURES / 0.4, (TEMPERATURES.size, 1))
    law = tabled(lambda m, _t: diffusion(m), humidity)
    return law._replace(pressures=np.zeros_like(law.pressures))


def plain_air(times: Array, film: float, moisture: float | Array = 0.0) -> AirSteps:
    """Intervals that end at `times`; flow through the surface film · (M - moisture) [m/s]."""
    seconds = np.diff(np.concatenate(([0.0], times)))
    ones = np.ones_like(seconds)
    resistance = 1.0 / (film * 0.4 * DENSITY)
    return AirSteps(seconds, np.asarray(moisture) / 0.4 * ones, resistance * ones, 1e9 * ones, 20.0 * ones, 1e5 * ones)


def plain_body(half: float = 1.0) -> Body:
    """A body of half thickness 1, whose numbers of heat do not matter."""
    return Body(half, DENSITY, 2000.0, 1.0, 0.0)


def start(nodes: Grid, mc: float = 0.35) -> Array:
    """Even moisture."""
    return np.full(nodes.volumes.size, mc)
