"""A log's shape from what was read with tape, calliper and pencil, for one state of its doubts.

build_shape(log, likely(doubts(log, species)))   the likely shape
build_shape(log, draw)                           one scenario: the same names, other values
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache, partial
from itertools import pairwise
from math import ceil

import numpy as np
from numpy.typing import NDArray

from waney.logs.bark import bark_on, bark_read, bark_under
from waney.logs.centreline import centres
from waney.logs.hidden import zones
from waney.logs.measured import Inside, MeasuredLog
from waney.logs.opened import opened
from waney.logs.outline import DIRECTIONS, form_of
from waney.logs.ringfield import offsets, piths, ring_field
from waney.logs.rounds import Round, rounds_of, without_bark
from waney.logs.shape import LogShape
from waney.logs.stem import sizes

Array = NDArray[np.float64]
Values = Mapping[str, float]

STATION_M = 0.15
"""No two stations lie further apart."""
HALF = 0.5
"""Trust in a reading over bark that nobody looked at, where the wood was read below and above it: the two are about as good."""


def build_shape(log: MeasuredLog, values: Values) -> LogShape:
    """The shape under these values of all the names of `doubts(log, ...)`, after trimming and flats. Deterministic.

    Raises NothingRead, TwiceRead or BadOutline when the readings make no shape, NothingLeft or NoOpposite when flats leave none,
    KeyError when a name is missing.
    """
    rounds = wood_rounds(log, values)
    z = _stations(log)
    size = sizes(log, rounds, values, z)
    radius = 0.5 * size[:, None] * _forms(rounds, z)
    middle = centres(log, values, z)
    from_middle = offsets(log, values, z)
    rings = partial(ring_field, z, middle, radius, from_middle)
    inside = zones(log, values, z, radius, middle, piths(middle, radius, from_middle)[0]) if log.hidden else ()
    return opened(LogShape(z, middle, radius, _bark(log, values, z, size), rings, inside), log)


def wood_rounds(log: MeasuredLog, values: Values) -> tuple[Round, ...]:
    """Every reading as what it says of the wood, bark taken off, ordered along the log."""
    read = rounds_of(log, values)
    wood = [r.at_m for r in read if r.over is Inside.WOOD]
    if len(wood) == len(read):
        return read
    unread = bool(wood) and not bark_read(log)
    bark = bark_under(log, values, np.array([r.at_m for r in read]), np.array([r.size_m for r in read]))
    return tuple(
        r if r.over is Inside.WOOD else without_bark(r, thick, HALF if unread and wood[0] < r.at_m < wood[-1] else 1.0)
        for r, thick in zip(read, bark, strict=True)
    )


def _stations(log: MeasuredLog) -> Array:
    """Butt, top, every reading and crook, and evenly spaced ones between."""
    return _between(log.length_m, tuple(r.at_m for r in log.rounds), tuple(b.at_m for b in log.bends if b.at_m is not None))


@lru_cache(maxsize=64)
def _between(length_m: float, read: tuple[float, ...], bent: tuple[float, ...]) -> Array:
    """The stations of a log of this length with readings and crooks there; read only, for every scenario has the same."""
    knots = sorted(at for at in {0.0, length_m, *read, *bent} if 0.0 <= at <= length_m)
    apart = [at for i, at in enumerate(knots) if i == 0 or at - knots[i - 1] > 1e-3 or at == length_m]
    between = [np.linspace(a, b, ceil((b - a) / STATION_M) + 1)[:-1] for a, b in pairwise(apart)]
    stations = np.append(np.concatenate(between), length_m)
    stations.setflags(write=False)
    return stations


def _forms(rounds: Sequence[Round], z: Array) -> Array:
    """Form of the outline at every station, shape (n, m): straight from reading to reading, held beyond them."""
    at = np.array([r.at_m for r in rounds])
    forms = np.stack([r.form for r in rounds])
    if len(rounds) == 1:
        return np.repeat(forms, len(z), axis=0)
    i = np.clip(np.searchsorted(at, z, side="right") - 1, 0, len(at) - 2)
    t = np.clip((z - at[i]) / (at[i + 1] - at[i]), 0.0, 1.0)[:, None]
    return form_of((1.0 - t) * forms[i] + t * forms[i + 1])


def _bark(log: MeasuredLog, values: Values, z: Array, size: Array) -> Array:
    """Bark thickness at every station, the same all round, shape (n, m)."""
    return np.repeat(bark_on(log, values, z, size)[:, None], DIRECTIONS, axis=1)
