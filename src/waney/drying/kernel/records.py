"""Records: what the drying kernel is handed, as named tuples of plain arrays. SI and degrees Celsius; moisture as a share."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Grid(NamedTuple):
    """Half a thickness of 1: control volumes (n,), gaps between nodes (n - 1,), the surface first."""

    volumes: Array
    gaps: Array


class Law(NamedTuple):
    """How one wood carries water, over temperature (rows) and moisture (columns, evenly spaced from 0).

    potential, diffusion, humidity: (m, k): integral of D over moisture [m2/s], D [m2/s], humidity in equilibrium [-].
    pressures: natural logarithm of the saturation pressure [Pa] at every whole degree from `coldest`.
    spacing: moisture between columns; coldest and step: temperature of the first row and between rows [°C].
    """

    potential: Array
    diffusion: Array
    humidity: Array
    pressures: Array
    spacing: float
    coldest: float
    step: float


class AirSteps(NamedTuple):
    """The air about a piece, one entry an interval, each (t,).

    seconds; vapour: pressure of the vapour [Pa]; resistance: of the vapour film [m2 s Pa/kg], 0 where it has none;
    heat: coefficient from the heat source to the piece [W/(m2 K)]; source: temperature of that source [°C];
    total: total pressure [Pa].
    """

    seconds: Array
    vapour: Array
    resistance: Array
    heat: Array
    source: Array
    total: Array


class Body(NamedTuple):
    """One piece: half thickness [m], dry density [kg/m3], heat capacity of the dry wood [J/(kg K)], factor on D [-],
    seep: coefficient of vapour flow along the grain [kg/(m3 s Pa2)], 0 for none."""

    half: float
    density: float
    capacity: float
    factor: float
    seep: float


# columns of what a course writes, one row an interval
MEAN, SURFACE, CORE, TEMPERATURE, LEFT, HEAT = 0, 1, 2, 3, 4, 5
COLUMNS = 6
"""mean, surface and core moisture [-]; temperature [°C]; water that left since the start [kg/m2 of face]; heat given to the
piece since the start [J/m2 of face]"""
