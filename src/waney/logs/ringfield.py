"""Pith lines and the ring field of a log, from piths read on its ends or from its middle.

log.pith.butt.x, .y, log.pith.top.x, .y [m]   the pith's offset from the middle of the wood at that end, log frame
log.pith2....                                 the second pith of a crotch
log.crotch.start [m]                          where the two piths part, from the butt, when nobody wrote it down
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.measured import Hidden, MeasuredLog, PithReading
from waney.logs.outline import angles_in_order, directions, reach, reach_by_angle, smoothed
from waney.logs.rings import RingField

Array = NDArray[np.float64]
Values = Mapping[str, float]

READ_M = 0.006
"""Half of the 90 % range of a pith's place read with a rule (1/4 in). Common practice, no source."""
OFF_CENTRE = 0.08
"""Half of the 90 % range of an unread pith's x or y, as a share of the diameter.

The two pine discs of Marichal et al. have theirs 2 and 8 % off the middle; the rest is common practice, no source."""
WITHIN = 0.8
"""A pith is kept within this share of the nearest radius, however the doubts fall."""


def pith_names(log: MeasuredLog) -> tuple[str, ...]:
    """One name for each pith."""
    return ("log.pith", "log.pith2") if any(p.which == 1 for p in log.piths) else ("log.pith",)


def pith_doubts(log: MeasuredLog, butt_m: float, top_m: float) -> Mapping[str, Estimate]:
    """Where the piths are at both ends, given the likely diameters there, and where a crotch parts."""
    found: dict[str, Estimate] = {}
    ends = {"butt": butt_m, "top": top_m}
    for end, diameter in ends.items():
        found |= _at_end(log, 0, "log.pith", end, diameter)
        if _read_at(log, 1, end) is not None:
            found |= _at_end(log, 1, "log.pith2", end, diameter)
    if _parts(log) and crotch_from(log) is None:
        middle, length = 0.5 * log.length_m, log.length_m
        basis = Basis(Ground.DEFAULT, "", "where the piths part was not written down")
        found["log.crotch.start"] = Estimate(middle, 0.1 * length, 0.9 * length, basis, 0.02 * length, 0.98 * length)
    return found


def _at_end(log: MeasuredLog, which: int, name: str, end: str, diameter: float) -> Mapping[str, Estimate]:
    reading = _read_at(log, which, end)
    if reading is not None:
        error, offset, basis = READ_M, reading.offset_m, Basis(Ground.READING, "rule on the end")
    else:
        error, offset, basis = OFF_CENTRE * diameter, (0.0, 0.0), Basis(Ground.DEFAULT, "", "pith not read at this end")
    pairs = zip(("x", "y"), offset, strict=True)
    return {f"{name}.{end}.{axis}": Estimate(at, at - error, at + error, basis) for axis, at in pairs}


def _read_at(log: MeasuredLog, which: int, end: str) -> PithReading | None:
    """The reading nearest to an end, among those in its half of the log."""
    half = [p for p in log.piths if p.which == which and (p.at_m < 0.5 * log.length_m) == (end == "butt")]
    return min(half, key=lambda p: p.at_m if end == "butt" else -p.at_m, default=None)


def _parts(log: MeasuredLog) -> bool:
    """Whether the second pith was seen at one end only."""
    return (_read_at(log, 1, "butt") is None) != (_read_at(log, 1, "top") is None)


def crotch_from(log: MeasuredLog) -> float | None:
    """Where the crotch begins, when it was written down and lies within the log."""
    starts = [h.from_m for h in log.hidden if h.kind is Hidden.CROTCH and 0.0 < h.from_m < log.length_m]
    return min(starts, default=None)


def offsets(log: MeasuredLog, values: Values, z_m: Array) -> Array:
    """Offset of every pith from the middle of the wood at each z [m], shape (k, n, 2)."""
    first = _line(values, "log.pith", z_m / log.length_m)
    if len(pith_names(log)) == 1:
        return first[None]
    return np.stack([first, _second(log, values, z_m, first)])


def _line(values: Values, name: str, t: Array) -> Array:
    butt, top = (np.array([values[f"{name}.{end}.x"], values[f"{name}.{end}.y"]]) for end in ("butt", "top"))
    line: Array = np.outer(1.0 - t, butt) + np.outer(t, top)
    return line


def _second(log: MeasuredLog, values: Values, z_m: Array, first: Array) -> Array:
    """The second pith: straight where it was read at both ends; else it leaves the first where the crotch begins."""
    if not _parts(log):
        return _line(values, "log.pith2", z_m / log.length_m)
    read = crotch_from(log)
    start = values["log.crotch.start"] if read is None else read
    end, at = ("butt", 0.0) if _read_at(log, 1, "butt") is not None else ("top", log.length_m)
    apart = np.clip((z_m - start) / (at - start), 0.0, 1.0)
    goal = np.array([values[f"log.pith2.{end}.x"], values[f"log.pith2.{end}.y"]])
    second: Array = (1.0 - apart)[:, None] * first + apart[:, None] * goal
    return second


def piths(centre_m: Array, radius_m: Array, offset_m: Array) -> Array:
    """Where the piths run (k, n, 2), well inside the wood, from their offsets (k, n, 2) from its middle; log frame [m]."""
    smooth = smoothed(radius_m)
    return centre_m[None] + np.stack([_kept_inside(line, smooth) for line in offset_m])


def ring_field(z_m: Array, centre_m: Array, radius_m: Array, offset_m: Array) -> RingField:
    """Rings from the wood's outlines and the piths' offsets from their middles (k, n, 2); all in the log frame."""
    smooth = smoothed(radius_m)
    pith = piths(centre_m, radius_m, offset_m)
    return RingField(z_m.copy(), pith, np.stack([_reaches(line - centre_m, smooth) for line in pith]))


def _kept_inside(line: Array, radii: Array) -> Array:
    most = WITHIN * radii.min(axis=1)
    far = np.hypot(line[:, 0], line[:, 1])
    scale = np.minimum(1.0, most / np.maximum(far, 1e-12))
    inside: Array = line * scale[:, None]
    return inside


def _reaches(line: Array, radii: Array) -> Array:
    """As `outline.reach` at every station, quicker where the outline is seen in order from the pith; (n, 2), (n, m) -> (n, m)."""
    unit = np.stack([np.cos(directions()), np.sin(directions())], axis=1)
    seen = radii[:, :, None] * unit - line[:, None, :]
    angle, orderly = angles_in_order(seen)
    reaches = np.empty_like(radii)
    reaches[orderly] = reach_by_angle(seen[orderly], angle[orderly], directions()[None])
    for i in np.flatnonzero(~orderly):
        reaches[i] = reach(np.zeros(2), seen[i])
    return reaches
