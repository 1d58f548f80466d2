"""What trimming and flats have left of a log, found a second time: every outline cut by its planes, corner by corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import clock_to_xy
from waney.logs.measured import FlatReading, From, MeasuredLog
from waney.logs.shape import LogShape, Zone
from waney.sawing.check import polygon
from waney.sawing.check.left import Plane
from waney.sawing.check.verdict import Difference, Reason

Array = NDArray[np.float64]

SAME_M = 1e-6
BESIDE_M = 0.0005
"""How far an outline told by other points may lie inside the true one, seen from any side."""
AREA_SHARE = 0.002
LOOKED_FROM = 72


@dataclass(frozen=True, eq=False)
class Before:
    """A log as it was measured, and its shape before anything was trimmed or sawn off it."""

    log: MeasuredLog
    whole: LogShape


@dataclass(frozen=True)
class Face:
    """Wood stays where x·out_x + y·out_y <= reach; reach runs straight from the butt to the top of what is left."""

    out: tuple[float, float]
    butt_m: float
    top_m: float

    def reach_m(self, share: float) -> float:
        """Where it lies at this share of the length."""
        return (1 - share) * self.butt_m + share * self.top_m


def flats_of(before: Before) -> tuple[Plane, ...]:
    """The flats that the log had already, as planes of what is left."""
    off = before.log.trimmed
    length = before.whole.length_m - off.butt_m - off.top_m
    return tuple(_plane(face, length) for face in _faces(before, length))


def _plane(face: Face, length: float) -> Plane:
    lean = np.array([face.out[0] * length, face.out[1] * length, face.butt_m - face.top_m])
    long = float(np.linalg.norm(lean))
    return Plane(lean / long, face.butt_m * length / long)


def check_opened(before: Before, left: LogShape) -> None:
    """Difference when `left` is not what trimming and flats leave of the whole log."""
    off = before.log.trimmed
    length = before.whole.length_m - off.butt_m - off.top_m
    if abs(left.length_m - length) > SAME_M:
        raise Difference(Reason.SHAPE, f"The log is {left.length_m:.4f} m long; trimming leaves {length:.4f} m.")
    faces = _faces(before, length)
    for bark in (False, True):
        _check_outlines(before, left, faces, bark=bark)
    _check_rings(before, left)
    _check_zones(before, left, faces)


def _faces(before: Before, length: float) -> tuple[Face, ...]:
    ends = [_middle(before, before.log.trimmed.butt_m + z) for z in (0.0, length)]
    by_pith = {r.clock_h: _face(r, ends) for r in before.log.flats if r.measured_from is From.PITH}
    return tuple(by_pith.get(r.clock_h) or _facing(r, by_pith) for r in before.log.flats)


def _middle(before: Before, z: float) -> Array:
    """What a flat's distance counts from: the first pith, or where none was read the middle of the section."""
    if before.log.piths:
        pith: Array = before.whole.rings.section(z)[0][0]
        return pith
    return np.array([np.interp(z, before.whole.z_m, before.whole.centre_m[:, axis]) for axis in (0, 1)])


def _face(reading: FlatReading, ends: list[Array]) -> Face:
    out = clock_to_xy(reading.clock_h, 1.0)
    butt, top = (float(np.dot(out, end)) for end in ends)
    return Face(out, butt + reading.butt_m, top + reading.top_m)


def _facing(reading: FlatReading, by_pith: dict[float, Face]) -> Face:
    out = clock_to_xy(reading.clock_h, 1.0)
    for other in by_pith.values():
        if np.hypot(out[0] + other.out[0], out[1] + other.out[1]) < SAME_M:
            return Face(out, reading.butt_m - other.butt_m, reading.top_m - other.top_m)
    raise Difference(Reason.SHAPE, f"No flat faces the one at {reading.clock_h:g} o'clock.")


def _check_outlines(before: Before, left: LogShape, faces: tuple[Face, ...], *, bark: bool) -> None:
    surface, z_whole = before.whole.surface(bark=bark), before.whole.z_m
    for points in left.surface(bark=bark):
        z = float(points[0, 2])
        flat = np.array([[np.interp(z + before.log.trimmed.butt_m, z_whole, surface[:, j, axis]) for axis in (0, 1)]
                         for j in range(surface.shape[1])])  # fmt: skip
        for face in faces:
            reach = face.reach_m(z / left.length_m)
            if float(np.max(points[:, :2] @ np.array(face.out))) > reach + SAME_M:
                raise Difference(Reason.SHAPE, f"At {z:.3f} m there is wood or bark beyond a flat.")
            flat = polygon.cut_off(flat, face.out, reach)
        _check_same(points[:, :2], flat, z)


def _check_same(told: Array, exact: Array, z: float) -> None:
    if abs(polygon.area(told) - polygon.area(exact)) > AREA_SHARE * polygon.area(exact):
        raise Difference(
            Reason.SHAPE, f"At {z:.3f} m the section has {polygon.area(told):.5f} m2, flats leave {polygon.area(exact):.5f} m2."
        )
    angle = 2 * np.pi * np.arange(LOOKED_FROM) / LOOKED_FROM
    sides = np.array([np.cos(angle), np.sin(angle)])
    beside = np.max(exact @ sides, axis=0) - np.max(told @ sides, axis=0)
    if float(np.min(beside)) < -SAME_M or float(np.max(beside)) > BESIDE_M:
        raise Difference(
            Reason.SHAPE, f"At {z:.3f} m a corner is {float(np.max(np.abs(beside))):.5f} m from where flats leave it."
        )


def _check_rings(before: Before, left: LogShape) -> None:
    for z in (0.0, left.length_m / 2, left.length_m):
        here, there = left.rings.section(z), before.whole.rings.section(z + before.log.trimmed.butt_m)
        if any(a.shape != b.shape or not np.allclose(a, b, rtol=0.0, atol=SAME_M) for a, b in zip(here, there, strict=True)):
            raise Difference(Reason.RINGS, f"At {z:.3f} m the rings are not those of the whole log.")


def _check_zones(before: Before, left: LogShape, faces: tuple[Face, ...]) -> None:
    start = before.log.trimmed.butt_m
    expected = [
        (zone.kind, zone.x_m, zone.y_m, max(zone.from_m - start, 0.0), min(zone.to_m - start, left.length_m))
        for zone in before.whole.zones
        if _still_there(zone, start, left.length_m, faces)
    ]
    found = [(zone.kind, zone.x_m, zone.y_m, zone.from_m, zone.to_m) for zone in left.zones]
    same = len(found) == len(expected) and all(
        a[0] is b[0] and bool(np.allclose(a[1:], b[1:], rtol=0.0, atol=SAME_M)) for a, b in zip(found, expected, strict=True)
    )
    if not same:
        raise Difference(Reason.METAL, "Metal, rot and the like in what is left are not those of the whole log.")


def _still_there(zone: Zone, start: float, length: float, faces: tuple[Face, ...]) -> bool:
    low, high = max(zone.from_m - start, 0.0), min(zone.to_m - start, length)
    if zone.to_m <= start or zone.from_m - start >= length:
        return False
    for face in faces:
        nearest = zone.x_m * face.out[0] + zone.y_m * face.out[1] - zone.radius_m
        if nearest >= face.reach_m(low / length) and nearest >= face.reach_m(high / length):
            return False
    return True
