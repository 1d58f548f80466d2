"""A piece that dries through its thickness: what it is, what it did, and how long it took."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import numpy as np

from waney.drying.air import DAY, part
from waney.drying.grid import grid
from waney.drying.kernel.course import run
from waney.drying.kernel.records import (
    COLUMNS,
    CORE,
    HEAT,
    LEFT,
    MEAN,
    SURFACE,
    TEMPERATURE,
    AirSteps,
    Array,
    Body,
    Grid,
    Law,
)
from waney.figures.problem import Problem
from waney.wood.density import WATER
from waney.wood.heat import dry_heat_capacity

TOLERANCE = 2e-5
"""Error that a step in time may make, in the mean square of moisture [-]."""
NEVER = -1.0
"""A mean moisture that no piece falls to."""
CAPACITY = dry_heat_capacity(30.0)
"""Heat capacity of dry wood [J/(kg K)]; taken at 30 °C, 6 % more at 60."""


class BadPiece(Problem):
    """A piece that cannot be dried: no thickness, no water."""


@dataclass(frozen=True)
class Drying:
    """A piece as it dries. thickness: green [m]; moistures: at the nodes from surface to middle, shape (n,) [-];
    factor: the species' and the piece's own factor on D; seep: `Body.seep`."""

    thickness_m: float
    sg_green: float
    law: Law = field(repr=False)
    moistures: Array = field(repr=False)
    temperature_c: float = 20.0
    factor: float = 1.0
    seep: float = 0.0
    nodes: Grid = field(default_factory=grid, repr=False)

    def __post_init__(self) -> None:
        if (
            not 0.0 < self.thickness_m < 1.0
            or float(self.moistures.min()) < 0.0
            or self.moistures.size != self.nodes.volumes.size
        ):
            raise BadPiece(f"A piece {self.thickness_m * 1000:g} mm thick with moistures {self.moistures} cannot be dried.")

    @property
    def mean(self) -> float:
        """Mean moisture [-]."""
        return float(self.nodes.volumes @ self.moistures)

    @property
    def body(self) -> Body:
        """What the kernel needs to know of it."""
        density = WATER * self.sg_green
        return Body(self.thickness_m / 2.0, density, CAPACITY, self.factor, self.seep)


def evenly(mc: float, nodes: Grid) -> Array:
    """The same moisture at every node."""
    return np.full(nodes.volumes.size, mc)


@dataclass(frozen=True)
class Course:
    """What a piece did, one row an interval, (t,): mean, surface and core moisture [-], temperature [°C], water that left and
    heat that came since the start, per square metre of one face [kg/m2, J/m2]; profiles (t, n) or (0, n)."""

    days: Array
    rows: Array
    profiles: Array
    start: Drying
    end: Drying

    @property
    def mean(self) -> Array:
        """Mean moisture [-], (t,)."""
        return self.rows[:, MEAN]

    @property
    def surface(self) -> Array:
        """Moisture of the surface [-], (t,)."""
        return self.rows[:, SURFACE]

    @property
    def core(self) -> Array:
        """Moisture of the middle [-], (t,)."""
        return self.rows[:, CORE]

    @property
    def temperature_c(self) -> Array:
        """Temperature of the piece [°C], (t,)."""
        return self.rows[:, TEMPERATURE]

    @property
    def left_kg_m2(self) -> Array:
        """Water that left by one face and half the ends [kg/m2 of face], (t,)."""
        return self.rows[:, LEFT]

    @property
    def heat_j_m2(self) -> Array:
        """Heat given to half the thickness [J/m2 of face], (t,)."""
        return self.rows[:, HEAT]

    def mean_on(self, days: Array | Sequence[float]) -> Array:
        """Mean moisture on days from the start, by straight lines within intervals [-]."""
        return self._on(days, self.start.mean, self.mean)

    def inside_on(self, days: Array | Sequence[float]) -> tuple[Array, Array]:
        """The same of the middle and of the surface [-]."""
        first = self.start.moistures
        return self._on(days, float(first[-1]), self.core), self._on(days, float(first[0]), self.surface)

    def _on(self, days: Array | Sequence[float], first: float, later: Array) -> Array:
        return np.interp(days, np.concatenate(([0.0], self.days)), np.concatenate(([first], later)))

    def days_to(self, mc: float) -> float | None:
        """Days until the mean falls to `mc` [-], by a straight line within an interval; None when it does not."""
        return self._at_first(mc, self.start.mean, self.mean)

    def core_days_to(self, mc: float) -> float | None:
        """The same of the middle."""
        return self._at_first(mc, float(self.start.moistures[-1]), self.core)

    def _at_first(self, mc: float, first: float, later: Array) -> float | None:
        if first <= mc:
            return 0.0
        below = np.flatnonzero(later <= mc)
        if below.size == 0:
            return None
        at = int(below[0])
        before, then = (first, 0.0) if at == 0 else (later[at - 1], self.days[at - 1])
        share = (before - mc) / (before - later[at])
        return float(then + share * (self.days[at] - then))


def dry(piece: Drying, air: AirSteps, *, stop_at: float = NEVER, tolerance: float = TOLERANCE, profiles: bool = False) -> Course:
    """Take a piece through the air, until its mean falls to `stop_at` [-] or the air ends. Profiles are kept where asked for."""
    moistures = piece.moistures.copy()
    count = air.seconds.size
    out = np.zeros((count, COLUMNS))
    kept = np.zeros((count if profiles else 0, moistures.size))
    done = run(piece.nodes, piece.law, air, piece.body, moistures, piece.temperature_c, stop_at, tolerance, out, kept)
    end = Drying(
        piece.thickness_m, piece.sg_green, piece.law, moistures, float(out[done - 1, TEMPERATURE]),
        piece.factor, piece.seep, piece.nodes,
    )  # fmt: skip
    days = np.cumsum(part(air, 0, done).seconds) / DAY
    return Course(days, out[:done], kept[:done] if profiles else kept, piece, end)


def dry_many(
    pieces: Sequence[tuple[Drying, AirSteps]], *, stop_at: float = NEVER, tolerance: float = TOLERANCE, threads: int = 2
) -> tuple[Course, ...]:
    """Many pieces, each in its own air, side by side in threads; the same answers as one after the other, in their order."""
    one: Callable[[tuple[Drying, AirSteps]], Course] = lambda given: dry(given[0], given[1], stop_at=stop_at, tolerance=tolerance)  # noqa: E731
    with ThreadPoolExecutor(threads) as pool:
        return tuple(pool.map(one, pieces, chunksize=1))
