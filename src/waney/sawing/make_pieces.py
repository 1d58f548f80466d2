"""Pieces from slices: edges, pith, zones and the rigid place in the log, out of the tables of a lie."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing
from waney.logs.shape import Zone
from waney.pieces.piece import Piece, PieceZone
from waney.sawing.kernel.chords import FAR, NM
from waney.sawing.kernel.slices import Cut
from waney.sawing.kernel.tables import Tables, planes_between, planes_on_flat
from waney.sawing.lay import Laid
from waney.sawing.log_to_saw import LogToSaw

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

PIECE_TO_SAW = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]])
"""Piece x, y, z are saw w, u, v."""


def slice_piece(
    log: LogToSaw, laid: Laid, t: Tables, p: int, k: int, *, on_flat: bool, name: str, cut: Cut | None = None
) -> Piece:
    """The piece between pass p and pass p + k of one lie; on_flat: pass p is the flat it lies on, no kerf above it; cut: what
    sawn planes left and right leave of it."""
    low, high = _chords(t, p, k, on_flat)
    sawn = (False, False)
    if cut is not None:
        low, high, sawn = _cut_off(low, high, cut)
    base = p * t.step if on_flat else p * t.step + t.kerf
    thickness = k * t.step if on_flat else k * t.step - t.kerf
    w = laid.sections.w
    centre = np.array([_middle(low, high), base + thickness / 2.0, (w[0] + w[-1]) / 2.0])
    to_saw = placing(PIECE_TO_SAW, centre)
    obstacles = laid.obstacles
    pith = np.stack([obstacles.u[: obstacles.piths] - centre[0], obstacles.v[: obstacles.piths] - centre[1]], axis=2)
    to_log = laid.to_saw.inverse().after(to_saw)
    return Piece(
        name=name,
        species=log.species,
        thickness_m=thickness,
        along_m=w - centre[2],
        low_y_m=_edge(low, centre[0]),
        high_y_m=_edge(high, centre[0]),
        pith_m=pith,
        zones=_zones(log.shape.zones, to_log, thickness, float(w[1] - w[0])),
        log=log.name,
        to_log=to_log,
        rings=log.shape.rings,
        sawn_edges=sawn,
    )


def _chords(t: Tables, p: int, k: int, on_flat: bool) -> tuple[Whole, Whole]:
    """Low and high edges (3, W) [nm] on lower face, mid-plane, upper face."""
    rows = list(planes_on_flat(t.passes, p, k) if on_flat else planes_between(t.passes, p, k))
    return t.edges[rows, 0], t.edges[rows, 1]


def _cut_off(low: Whole, high: Whole, cut: Cut) -> tuple[Whole, Whole, tuple[bool, bool]]:
    """Edges within two sawn planes, and which of them are sawn wherever there is wood."""
    low, high = np.maximum(low, cut.low), np.minimum(high, cut.high)
    gone = low >= high
    low, high = np.where(gone, FAR, low), np.where(gone, -FAR, high)
    return low, high, (bool(np.all(low[~gone] == cut.low)), bool(np.all(high[~gone] == cut.high)))


def _middle(low: Whole, high: Whole) -> float:
    """Middle of the bounding box across [m]; 0 for a piece without wood."""
    wood = low < high
    return float((low[wood].min() + high[wood].max()) / 2 * NM) if bool(wood.any()) else 0.0


def _edge(edge: Whole, centre_m: float) -> Array:
    known = np.where(np.abs(edge) >= FAR, np.nan, edge * NM)
    return known - centre_m


def _zones(zones: tuple[Zone, ...], to_log: Placing, thickness: float, spacing: float) -> tuple[PieceZone, ...]:
    """The zones that may reach the piece's thickness, their axes drawn out by a station either way, in its own frame."""
    found = []
    for zone in zones:
        ends = to_log.back(np.array([[zone.x_m, zone.y_m, zone.from_m], [zone.x_m, zone.y_m, zone.to_m]]))
        if _reaches(ends, zone.radius_m + thickness / 2.0, spacing):
            start, end = (tuple(float(c) for c in row) for row in ends)
            found.append(
                PieceZone(
                    zone.kind, (start[0], start[1], start[2]), (end[0], end[1], end[2]), zone.radius_m, zone.chance, zone.note
                )
            )
    return tuple(found)


def _reaches(ends: Array, within: float, spacing: float) -> bool:
    """Whether a rod's axis (2, 3), drawn out by one spacing at both ends, comes within so much of the mid-plane."""
    run = max(float(ends[1, 0] - ends[0, 0]), 1e-9)
    slope = float(ends[1, 2] - ends[0, 2]) / run if run > 1e-6 else 0.0
    a, b = float(ends[0, 2]) - slope * spacing, float(ends[1, 2]) + slope * spacing
    return min(a, b) < within and max(a, b) > -within
