"""A scanned log: points from any scanner, sliced and closed into outlines, with what was missing and how noisy it was.

pose       which end is the butt, which the top, and one clock position, in the scan's own frame
sheet      the smooth net laid over the points (`logs.unrolled`)
gap        part of the surface with hardly any points, bridged by the sheet
second wall  part where many points lie together off the sheet: a badly joined scan, a branch, ivy
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.cloud_line import middle_line
from waney.logs.frames import Placing, clock_to_xy, placing
from waney.logs.measured import Inside
from waney.logs.outline import DIRECTIONS, directions
from waney.logs.scan_faults import Gap, SecondWall, gaps_in, second_walls_in
from waney.logs.unrolled import Sheet, fitted
from waney.logs.volume import centroids

Array = NDArray[np.float64]
Point3 = tuple[float, float, float]

STATION_M = 0.1
"""Stations lie about this far apart."""
INSET_M = 0.02
"""Points nearer to an end than this are left out: they may lie on the sawn face; the sheet runs on to the end by itself."""
FEWEST_POINTS = 200
"""A cloud with fewer points than this in the log makes no shape."""
MOST_POINTS = 200_000
"""Of a larger cloud every k-th point is taken, so that at most this many count."""
ODD_LENGTH_M = (0.2, 40.0)
"""A log outside these lengths is a scan in other units than metres."""


class BadScan(Problem):
    """Points and pose do not make a log."""


@dataclass(frozen=True)
class Pose:
    """How the log lies in the scan: rough middles of both ends, and a direction towards a known clock position.

    Scan frame, metres. The planes through the two middles, square to the line between them, crop the scan.
    """

    butt_m: Point3
    top_m: Point3
    mark: Point3
    """direction from the log's middle towards the mark, any length"""
    mark_clock_h: float = 12.0
    """clock position of the mark, seen at the butt"""
    reach_m: float | None = None
    """points further than this from the line between the ends are cut away; None: none are"""


@dataclass(frozen=True, eq=False)
class Scan:
    """The surface that was scanned, in the log frame, with its faults. Metres.

    z_m (n,) from 0; centre_m (n, 2) the middle of each section, zero at both ends; radius_m (n, m) to the scanned surface.
    """

    z_m: Array
    centre_m: Array
    radius_m: Array
    over: Inside
    """what the scanned surface is: bark, or wood"""
    placing: Placing
    """from the scan's frame to the log frame: `placing.there` carries a nail picked in the scan"""
    noise_m: float
    """standard deviation of the points about the surface"""
    gaps: tuple[Gap, ...]
    second_walls: tuple[SecondWall, ...]
    points_read: int
    """points within the crop"""
    points_counted: int
    """those with any weight in the end"""

    @property
    def length_m(self) -> float:
        """From butt to top."""
        return float(self.z_m[-1])

    @property
    def bridged_share(self) -> float:
        """Share of the surface that lies in gaps [-]."""
        return sum(gap.share for gap in self.gaps)


def off_the_line(butt: Point3, top: Point3, point: Point3) -> Point3:
    """The direction from the line between the ends straight to a point; nothing (zeros) for a point on it."""
    a, b, p = np.array(butt), np.array(top), np.array(point)
    along = (b - a) / max(float(np.linalg.norm(b - a)), 1e-9)
    x, y, z = (p - a) - ((p - a) @ along) * along
    return float(x), float(y), float(z)


def outlines(centre_m: Array, radius_m: Array) -> Array:
    """Points of outlines, shape (n, m, 2), from middles (n, 2) and radii (n, m)."""
    unit = np.stack([np.cos(directions()), np.sin(directions())], axis=1)
    points: Array = centre_m[:, None, :] + radius_m[..., None] * unit
    return points


def scan_of(points_m: Array, pose: Pose, over: Inside = Inside.BARK) -> Scan:
    """The scanned surface of a log.

    Args:
        points_m: (N, 3) in the scan's frame [m], in any order
        pose: how the log lies in it
        over: what was scanned: bark unless said otherwise
    Raises BadScan when too few points lie in the crop or the pose makes no sense. Method: docs/methods/scans.md.
    """
    to_log = _facing(pose)
    cut = _cropped(points_m, to_log, pose)
    to_log, z, centre = _lined_up(cut, to_log, pose)
    inside = _between_ends(to_log.there(cut), z[-1])
    cut = cut[inside]
    first = fitted(to_log.there(cut), z, centre, DIRECTIONS)
    to_log, z, centre = _turned_to_ends(to_log, z, centroids(outlines(centre, first.radius_m)))
    sheet = fitted(to_log.there(cut), z, centre, DIRECTIONS, first.weight)
    return _reported(sheet, z, centre, to_log, over, len(cut))


def _facing(pose: Pose) -> Placing:
    """The first guess of the log frame: z along the rough middles, turned so that the mark has its clock position."""
    butt, top, mark = np.array(pose.butt_m), np.array(pose.top_m), np.array(pose.mark)
    length = float(np.linalg.norm(top - butt))
    if not ODD_LENGTH_M[0] <= length <= ODD_LENGTH_M[1]:
        raise BadScan(f"The two ends lie {length:g} m apart; check the unit of the file and which points were picked.")
    return _placed(butt, top, mark, pose.mark_clock_h)


def _placed(butt: Array, top: Array, mark: Array, clock_h: float) -> Placing:
    along = (top - butt) / np.linalg.norm(top - butt)
    across = mark - (mark @ along) * along
    if np.linalg.norm(across) < 0.1 * np.linalg.norm(mark) or not np.any(mark):
        raise BadScan("The mark's direction runs along the log; give one that points out of its side.")
    u = across / np.linalg.norm(across)
    v = np.cross(along, u)
    c, s = clock_to_xy(clock_h, 1.0)
    turn = np.stack([c * u - s * v, s * u + c * v, along])
    return placing(turn, -turn @ butt)


def _cropped(points_m: Array, to_log: Placing, pose: Pose) -> Array:
    """Points between the end planes, with a margin for the tilt that is still to come, and within reach; thinned if too many."""
    here, length = to_log.there(points_m), np.linalg.norm(np.subtract(pose.top_m, pose.butt_m))
    margin = 0.1 * length
    keep = (here[:, 2] > -margin) & (here[:, 2] < length + margin) & np.isfinite(here).all(axis=1)
    if pose.reach_m is not None:
        keep &= np.hypot(here[:, 0], here[:, 1]) <= pose.reach_m
    cut: Array = points_m[keep]
    return cut[:: ceil(len(cut) / MOST_POINTS)] if len(cut) else cut


def _lined_up(cut: Array, to_log: Placing, pose: Pose) -> tuple[Placing, Array, Array]:
    """Frame through the middles of the two ends, stations, and a first middle for each."""
    here, length = to_log.there(cut), float(np.linalg.norm(np.subtract(pose.top_m, pose.butt_m)))
    between = here[(here[:, 2] >= 0.0) & (here[:, 2] <= length)]
    if len(between) < FEWEST_POINTS:
        raise BadScan(f"Only {len(between)} points lie between the two ends, and {FEWEST_POINTS} are needed: check the pose.")
    at = np.linspace(0.0, length, max(3, ceil(length / STATION_M) + 1))
    line = np.column_stack([middle_line(between, at), at])
    return _along(to_log, line)


def _along(to_log: Placing, line: Array) -> tuple[Placing, Array, Array]:
    """The log frame turned and shifted so that a line of middles (n, 3) begins and ends on its z axis."""
    twelve = np.array([0.0, 1.0, 0.0])
    onto = _placed(line[0], line[-1], twelve, 12.0)
    seen = onto.there(line)
    z = np.linspace(0.0, float(seen[-1, 2]), len(line))
    centre = np.stack([np.interp(z, seen[:, 2], seen[:, k]) for k in (0, 1)], axis=1)
    return onto.after(to_log), z, centre


def _turned_to_ends(to_log: Placing, z: Array, middle: Array) -> tuple[Placing, Array, Array]:
    return _along(to_log, np.column_stack([middle, z]))


def _between_ends(here: Array, length_m: float) -> NDArray[np.bool_]:
    inside: NDArray[np.bool_] = (here[:, 2] > INSET_M) & (here[:, 2] < length_m - INSET_M)
    if inside.sum() < FEWEST_POINTS:
        raise BadScan(f"Only {inside.sum()} points lie on the log's side, and {FEWEST_POINTS} are needed.")
    return inside


def _reported(sheet: Sheet, z: Array, centre: Array, to_log: Placing, over: Inside, read: int) -> Scan:
    if float(sheet.radius_m.min()) <= 0.0:
        raise BadScan("The surface runs through its own middle: cut away what is not the log, or pick the ends' middles again.")
    return Scan(
        z,
        centre,
        sheet.radius_m,
        over,
        to_log,
        sheet.noise_m,
        gaps_in(sheet, z),
        second_walls_in(sheet, z),
        read,
        int(np.count_nonzero(sheet.weight)),
    )
