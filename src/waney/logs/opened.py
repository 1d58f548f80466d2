"""Opened: what is left of a log once its ends are trimmed and flats are sawn or hewn, as a shape like any other.

whole   the log as it was measured
flat    a plane along the log: wood stays where out·(x, y) <= butt + (top - butt)·z / length
seam    a direction that the outline of every station is given a point in: the edges of each flat, in the wood and in the bark

The log frame stays: x and y as they were, z counted from the new butt end. Rings and zones stay where they are in the wood. Each
outline is cut off by the flats and told again about the middle of what is left; between the seams its points lie evenly. So the
corners of a cant are exact, and the points of one seam make one straight edge from end to end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import pairwise
from math import atan2, pi

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.frames import clock_to_xy
from waney.logs.measured import FlatReading, From, MeasuredLog, Trimmed
from waney.logs.outline import angles_in_order, directions, reach_by_angle
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.logs.volume import centroids

Array = NDArray[np.float64]

EVERY_RAD = pi / 144.0
"""Points on the round part of an outline lie no further apart; a corner of the first outline loses under 0.2 mm by it."""
ON_FLAT, IN_BARK = 8, 2
"""Stretches along the wood of a flat, and along the bark on either side of it."""
LEAST_REACH_M = 1e-4
NO_WOOD = "The flats leave no wood somewhere along the log; look at their distances and clock positions."
LEAST_END_M = 0.05
DEEPER_M = 2e-8
"""Flats are cut this much deeper than they were read: no pass then lies in a flat a whole number of scale steps from another."""


class NothingLeft(Problem):
    """Trimming or flats leave no wood somewhere."""


class NoOpposite(Problem):
    """A flat is said to lie so far from the flat opposite, and there is none."""


@dataclass(frozen=True)
class Flat:
    """A plane in the frame of what is left: wood stays where out·(x, y) <= reach; reach runs straight from butt to top [m]."""

    clock_h: float
    butt_m: float
    top_m: float

    @property
    def out(self) -> tuple[float, float]:
        """Unit vector x, y of the side it faces."""
        return clock_to_xy(self.clock_h, 1.0)

    def plane(self, length_m: float) -> tuple[Array, float]:
        """Unit vector (3,) of the side it faces in a log of this length, and how far out the plane lies [m]."""
        out = np.array([*self.out, (self.butt_m - self.top_m) / length_m])
        size = float(np.linalg.norm(out))
        return out / size, self.butt_m / size

    def reach_m(self, share: Array) -> Array:
        """How far out it lies, at shares of the length."""
        reach: Array = self.butt_m + (self.top_m - self.butt_m) * share
        return reach


def opened(whole: LogShape, log: MeasuredLog) -> LogShape:
    """What is left of a whole log after everything that was done to it. Raises NothingLeft, NoOpposite."""
    if not log.flats and log.trimmed == Trimmed():
        return whole
    shape = trimmed_off(whole, log.trimmed)
    return _cut(shape, flats_of(log, shape)) if log.flats else shape


def trimmed_off(shape: LogShape, off: Trimmed) -> LogShape:
    """The shape with its ends cut off square. Raises NothingLeft."""
    start, end = off.butt_m, shape.length_m - off.top_m
    if end - start < LEAST_END_M:
        raise NothingLeft(f"Trimming takes {off.butt_m + off.top_m:.2f} m of {shape.length_m:.2f} m; look at [trimmed].")
    if off == Trimmed():
        return shape
    z = np.concatenate([[start], shape.z_m[(shape.z_m > start + 1e-6) & (shape.z_m < end - 1e-6)], [end]])
    return replace(
        shape,
        z_m=z - start,
        centre_m=_between(z, shape.z_m, shape.centre_m),
        radius_m=_between(z, shape.z_m, shape.radius_m),
        bark_m=_between(z, shape.z_m, shape.bark_m),
        ringed=partial(_rings_between, shape, start, end),
        zones=tuple(_moved(zone, start, end) for zone in shape.zones if zone.to_m > start and zone.from_m < end),
    )


def _between(at: Array, z: Array, rows: Array) -> Array:
    """Rows (n, k) of stations z, straight between them, at other places (p,)."""
    return np.stack([np.interp(at, z, column) for column in rows.T], axis=1)


def _rings_between(shape: LogShape, start: float, end: float) -> RingField:
    rings = shape.rings
    inner = rings.z_m[(rings.z_m > start + 1e-6) & (rings.z_m < end - 1e-6)]
    z = np.concatenate([[start], inner, [end]])
    pith = np.stack([_between(z, rings.z_m, line) for line in rings.pith_m])
    reach = np.stack([_between(z, rings.z_m, line) for line in rings.reach_m])
    return RingField(z - start, pith, reach)


def _moved(zone: Zone, start: float, end: float) -> Zone:
    return replace(zone, from_m=max(zone.from_m, start) - start, to_m=min(zone.to_m, end) - start)


def flats_of(log: MeasuredLog, shape: LogShape) -> tuple[Flat, ...]:
    """The flats of a log as planes, ordered round it; `shape` is the log trimmed but round. Raises NoOpposite."""
    middle = shape.rings.pith_m[0][[0, -1]] if log.piths else shape.centre_m[[0, -1]]
    first = {reading: _from_middle(reading, middle) for reading in log.flats if reading.measured_from is From.PITH}
    found = [first.get(reading) or _from_opposite(reading, list(first.values())) for reading in log.flats]
    return tuple(sorted(found, key=lambda flat: atan2(flat.out[1], flat.out[0])))


def _from_middle(reading: FlatReading, middle: Array) -> Flat:
    butt, top = middle @ np.array(clock_to_xy(reading.clock_h, 1.0))
    return Flat(reading.clock_h, float(butt) + reading.butt_m, float(top) + reading.top_m)


def _from_opposite(reading: FlatReading, others: list[Flat]) -> Flat:
    for other in others:
        if abs((other.clock_h - reading.clock_h) % 12.0 - 6.0) < 1e-6:
            return Flat(reading.clock_h, reading.butt_m - other.butt_m, reading.top_m - other.top_m)
    raise NoOpposite(
        f"The flat that faces {reading.clock_h:g} o'clock is given by a thickness; write the flat that faces the other way too."
    )


def _cut(shape: LogShape, flats: tuple[Flat, ...]) -> LogShape:
    out = np.array([flat.out for flat in flats])
    reach = np.stack([flat.reach_m(shape.z_m / shape.length_m) - DEEPER_M for flat in flats], axis=1)
    wood = _Cut(shape.surface(bark=False)[..., :2], out, reach)
    outer = _Cut(shape.surface(bark=True)[..., :2], out, reach)
    centre = wood.middle()
    angle = _evenly(_seams(wood, outer, centre))
    radius = wood.reaches(centre, angle)
    bark = np.maximum(outer.reaches(centre, angle) - radius, 0.0)
    zones = tuple(zone for zone in shape.zones if not _gone(zone, flats, shape.length_m))
    return replace(shape, centre_m=centre, radius_m=radius, bark_m=bark, zones=zones, angle_rad=angle)


def _gone(zone: Zone, flats: tuple[Flat, ...], length_m: float) -> bool:
    """Whether a flat took the whole zone away."""
    ends = np.array([zone.from_m, zone.to_m]) / length_m
    near = [flat.out[0] * zone.x_m + flat.out[1] * zone.y_m - zone.radius_m for flat in flats]
    return any(bool(np.all(at >= flat.reach_m(ends))) for at, flat in zip(near, flats, strict=True))


def _seams(wood: _Cut, outer: _Cut, centre: Array) -> Array:
    """Directions (n, 4 k) of the seams: for each flat the edge of its bark, of its wood, of its wood again, of its bark."""
    found = []
    for k, out in enumerate(wood.out):
        facing = atan2(out[1], out[0])
        (b, c), (a, d) = (facing + _half_turn(_directions(edges.edges[k], centre) - facing) for edges in (wood, outer))
        found += [np.minimum(a, b), b, c, np.maximum(c, d)]
    rising: Array = np.maximum.accumulate(np.stack(found, axis=1), axis=1)
    return np.minimum(rising, rising[:, :1] + 2.0 * pi)


def _directions(points: Array, centre: Array) -> Array:
    """Angles (2, n) of points (2, n, 2) seen from the middles."""
    x, y = np.moveaxis(points - centre, -1, 0)
    angle: Array = np.arctan2(y, x)
    return angle


def _half_turn(angle: Array) -> Array:
    """The same angles within half a turn either way."""
    turned: Array = (angle + pi) % (2.0 * pi) - pi
    return turned


def _evenly(seams: Array) -> Array:
    """Directions (n, m) through all seams (n, s), evenly between one and the next; as many at every station."""
    following = np.concatenate([seams, seams[:, :1] + 2.0 * pi], axis=1)
    parts: list[Array] = []
    for k, (a, b) in enumerate(pairwise(following.T)):
        step = k % 4
        fixed = (IN_BARK, ON_FLAT, IN_BARK)
        count = fixed[step] if step < 3 else max(1, int(np.ceil((b - a).max() / EVERY_RAD)))
        parts.append(a[:, None] + (b - a)[:, None] * np.arange(count) / count)
    every: Array = np.concatenate(parts, axis=1)
    return every


@dataclass(frozen=True, eq=False)
class _Cut:
    """Outlines (n, m, 2) before they are cut, and the flats that cut them: out (k, 2), reach (n, k)."""

    points: Array
    out: Array
    reach: Array

    @cached_property
    def edges(self) -> tuple[Array, ...]:
        """Both edges of every flat at every station, each (2, n, 2); where it cuts nothing, twice the point nearest to it."""
        return tuple(self._edges(k) for k in range(len(self.out)))

    def _edges(self, k: int) -> Array:
        out, along = self.out[k], np.array([-self.out[k][1], self.out[k][0]])
        off, place = self.points @ out - self.reach[:, k, None], self.points @ along
        crosses, meets = _crossings(off, place)
        first, last = np.where(crosses, meets, np.inf).min(axis=1), np.where(crosses, meets, -np.inf).max(axis=1)
        for j, other in enumerate(self.out):
            lean = float(other @ along)
            if j != k and abs(lean) > 1e-9:
                limit = (self.reach[:, j] - self.reach[:, k] * float(other @ out)) / lean
                first, last = (first, np.minimum(last, limit)) if lean > 0.0 else (np.maximum(first, limit), last)
        cuts = first < last
        nearest = self.points[np.arange(len(off)), off.argmax(axis=1)]
        foot = self.reach[:, k, None] * out
        return np.stack([np.where(cuts[:, None], foot + np.where(cuts, t, 0.0)[:, None] * along, nearest) for t in (first, last)])

    def middle(self) -> Array:
        """Area centroid of what is left at every station (n, 2), near enough. Raises NothingLeft."""
        inside = np.all(self.points @ self.out.T <= self.reach[:, None, :] + 1e-12, axis=2)
        corners = np.concatenate(self.edges)
        kept = np.all(np.swapaxes(corners @ self.out.T, 0, 1) <= self.reach[:, None, :] + 1e-9, axis=2)
        every = np.concatenate([self.points, np.swapaxes(corners, 0, 1)], axis=1)
        weight = np.concatenate([inside, kept], axis=1).astype(float)
        if not bool(np.all(weight.sum(axis=1) >= 3.0)):
            raise NothingLeft(NO_WOOD)
        about = (every * weight[..., None]).sum(axis=1) / weight.sum(axis=1)[:, None]
        angle = np.broadcast_to(directions(), (len(about), len(directions())))
        reach = self.reaches(about, angle)
        return centroids(about[:, None] + reach[..., None] * np.stack([np.cos(angle), np.sin(angle)], axis=2))

    def reaches(self, centre: Array, angle: Array) -> Array:
        """How far what is left reaches from a middle in these directions, (n, q) -> (n, q) [m]. Raises NothingLeft."""
        ray = np.stack([np.cos(angle), np.sin(angle)], axis=2)
        towards, room = ray @ self.out.T, self.reach - centre @ self.out.T
        flat = np.where(towards > 1e-9, room[:, None, :] / np.where(towards > 1e-9, towards, 1.0), np.inf).min(axis=2)
        reach: Array = np.minimum(_nearest(self.points - centre[:, None], angle), flat)
        if not bool(np.all((reach > LEAST_REACH_M) & np.isfinite(reach))):
            raise NothingLeft(NO_WOOD)
        return reach


def _crossings(off: Array, place: Array) -> tuple[NDArray[np.bool_], Array]:
    """Which edges of closed outlines pass from one side of a line to the other, and where along it; both (n, m)."""
    next_off, next_place = np.roll(off, -1, axis=1), np.roll(place, -1, axis=1)
    crosses = (off > 0.0) != (next_off > 0.0)
    share = off / np.where(crosses, off - next_off, 1.0)
    return crosses, place + (next_place - place) * share


def _nearest(seen: Array, angle: Array) -> Array:
    """From the origin to where rays first meet outlines (n, m, 2) round it, (n, q) -> (n, q) [m]."""
    found, orderly = angles_in_order(seen)
    nearest = np.empty_like(angle)
    nearest[orderly] = reach_by_angle(seen[orderly], found[orderly], angle[orderly])
    for i in np.flatnonzero(~orderly):
        nearest[i] = _first_met(seen[i], np.stack([np.cos(angle[i]), np.sin(angle[i])], axis=1))
    return nearest


def _first_met(polygon: Array, ray: Array) -> Array:
    """As `_nearest` for one outline that is not seen in order: (m, 2), rays (q, 2) -> (q,)."""
    edge = np.roll(polygon, -1, axis=0) - polygon
    across = ray[:, None, 0] * edge[None, :, 1] - ray[:, None, 1] * edge[None, :, 0]
    safe = np.where(np.abs(across) < 1e-15, np.inf, across)
    distance = (polygon[:, 0] * edge[:, 1] - polygon[:, 1] * edge[:, 0])[None, :] / safe
    along = (polygon[None, :, 0] * ray[:, None, 1] - polygon[None, :, 1] * ray[:, None, 0]) / safe
    hit = (along >= -1e-9) & (along <= 1.0 + 1e-9) & (distance > 0.0)
    met: Array = np.where(hit, distance, np.inf).min(axis=1)
    return met
