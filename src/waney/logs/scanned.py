"""A log's shape from its scan and what was read beside it: bark, piths, what is hidden. The scan takes the place of the rounds.

log.scan.size [-]   by what share every scanned radius may be off: the scanner, what was bridged over gaps, second walls
The other names are those of `bark`, `ringfield` and `hidden`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from math import hypot

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.bark import Barked, bark_doubts, bark_on, bark_under
from waney.logs.hidden import hidden_doubts, zones
from waney.logs.measured import Inside, MeasuredLog, RoundReading
from waney.logs.opened import opened
from waney.logs.outline import area_of
from waney.logs.ringfield import offsets, pith_doubts, piths, ring_field
from waney.logs.scan import Scan, outlines
from waney.logs.shape import LogShape
from waney.logs.volume import centroids

Array = NDArray[np.float64]
Values = Mapping[str, float]

SCANNER_M = 0.003
"""Half of the 90 % range of a scanned radius, all points together. Common practice, no source."""
BRIDGED = 0.05
"""The same for a radius bridged over a gap, as a share of it: 60 degree gaps in lobed solids, computed in the tests."""


def with_scan(log: MeasuredLog, scan: Scan) -> MeasuredLog:
    """The log with the scan's length and end outlines as readings; typed readings of the other surface stay, for the bark."""
    ends = tuple(_end(scan, i) for i in (0, -1))
    typed = tuple(r for r in log.rounds if r.over is not scan.over)
    rounds = tuple(sorted((*ends, *typed), key=lambda r: r.at_m))
    return replace(log, length_m=scan.length_m, rounds=rounds)


def _end(scan: Scan, i: int) -> RoundReading:
    points = outlines(scan.centre_m, scan.radius_m)[i]
    return RoundReading(float(scan.z_m[i]), scan.over, trace_m=tuple((float(x), float(y)) for x, y in points))


def scan_doubts(log: MeasuredLog, scan: Scan, species: Barked | None = None) -> Mapping[str, Estimate]:
    """Every doubt about the shape of a scanned log; `log` as `with_scan` gives it. The same names and order, always."""
    sizes = 2.0 * np.sqrt(area_of(scan.radius_m[[0, -1]]) / np.pi)
    return {
        "log.scan.size": _size(scan),
        **bark_doubts(log, species),
        **pith_doubts(log, float(sizes[0]), float(sizes[1])),
        **hidden_doubts(log),
    }


def _size(scan: Scan) -> Estimate:
    # of two walls either may be the true one: half the way between them, over the share of the surface that has two
    walls = sum(wall.share * abs(wall.off_m) for wall in scan.second_walls) / 2.0
    error = hypot((SCANNER_M + walls) / float(scan.radius_m.mean()), BRIDGED * scan.bridged_share)
    basis = Basis(Ground.READING, "scanner", f"{100 * scan.bridged_share:.0f} % of the surface bridged")
    return Estimate(1.0, 1.0 - error, 1.0 + error, basis, hard_min=0.5)


def scanned_shape(log: MeasuredLog, scan: Scan, values: Values) -> LogShape:
    """The shape under these values of all the names of `scan_doubts`; `log` as `with_scan` gives it. Deterministic.

    Taking the bark off moves an end's middle by well under a millimetre; the middles are shifted back onto the z axis.
    """
    wood, bark = _wood_and_bark(log, scan, values)
    middle = _on_axis(scan.z_m, scan.centre_m, wood)
    from_middle = offsets(log, values, scan.z_m)
    rings = partial(ring_field, scan.z_m, middle, wood, from_middle)
    inside = zones(log, values, scan.z_m, wood, middle, piths(middle, wood, from_middle)[0]) if log.hidden else ()
    return opened(LogShape(scan.z_m.copy(), middle, wood, bark, rings, inside), log)


def _wood_and_bark(log: MeasuredLog, scan: Scan, values: Values) -> tuple[Array, Array]:
    """Radii inside bark and bark thickness, both (n, m); bark is as thick all round."""
    surface = scan.radius_m * values["log.scan.size"]
    size = 2.0 * np.sqrt(area_of(surface) / np.pi)
    thickness = bark_under if scan.over is Inside.BARK else _bark_on
    bark = thickness(log, values, scan.z_m, size)
    if scan.over is Inside.WOOD:
        return surface, np.repeat(bark[:, None], surface.shape[1], axis=1)
    # in a deep hollow between buttresses the bark is never more than a third of what is left
    wood = np.maximum(surface - bark[:, None], 0.67 * surface)
    return wood, surface - wood


def _bark_on(log: MeasuredLog, values: Values, at_m: Array, wood_m: Array) -> Array:
    debarked = log.bark is None or log.bark.none_left
    return np.zeros(len(at_m)) if debarked else bark_on(log, values, at_m, wood_m)


def _on_axis(z_m: Array, centre_m: Array, wood: Array) -> Array:
    ends = centroids(outlines(centre_m, wood)[[0, -1]])
    t = (z_m / z_m[-1])[:, None]
    middle: Array = centre_m - (1.0 - t) * ends[0] - t * ends[1]
    return middle
