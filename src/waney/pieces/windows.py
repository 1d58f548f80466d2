"""Windows: the stretches of a piece that a product could come from, what blocks them, and the width that is free.

A window runs from one station to a later one, both included; y is counted across, in the piece frame [m].
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.logs.measured import Hidden
from waney.logs.rings import UNDEFINED_WITHIN_M
from waney.pieces.piece import FACE_A, FACE_B, MID_PLANE, Piece, PieceZone

Array = NDArray[np.float64]
Span = tuple[float, float]

FACES = (FACE_B, FACE_A)


@dataclass(frozen=True)
class Window:
    """Stations first..last of a piece, both included; last > first."""

    first: int
    last: int

    @property
    def stations(self) -> slice:
        """To index the station axis of a piece's arrays."""
        return slice(self.first, self.last + 1)


def spacing_m(piece: Piece) -> float:
    """Distance between neighbouring stations."""
    return piece.length_m / (len(piece.along_m) - 1)


def intervals_needed(length_m: float, spacing: float) -> int:
    """Station intervals that hold a length with its trim; a billionth of an interval is forgiven."""
    return max(1, ceil(length_m / spacing - 1e-9))


def windows(piece: Piece, length_m: float) -> tuple[Window, ...]:
    """Every window of the least number of intervals that holds length_m (trim included), with wood on all three planes."""
    n = intervals_needed(length_m, spacing_m(piece))
    sound = np.all(np.isfinite(piece.low_y_m) & np.isfinite(piece.high_y_m), axis=0)
    found = (Window(i, i + n) for i in range(len(piece.along_m) - n))
    return tuple(window for window in found if bool(np.all(sound[window.stations])))


def blocked(piece: Piece, window: Window, may_hold: Collection[Hidden], *, pith_kept: bool) -> tuple[Span, ...]:
    """Spans of y that zones (of kinds that must not be held) and a pith to be boxed out take from the window."""
    spans: list[Span] = []
    for zone in piece.zones:
        if zone.kind not in may_hold:
            spans += _blocked_by_zone(piece, window, zone)
    if not pith_kept:
        spans += _blocked_by_pith(piece, window)
    return tuple(spans)


def _blocked_by_zone(piece: Piece, window: Window, zone: PieceZone) -> list[Span]:
    start, end = sorted((zone.start_m, zone.end_m))
    felt = [j for j in _zone_stations(piece, start[0], end[0]) if window.first <= j <= window.last]
    centres = (_axis_at(start, end, float(piece.along_m[j])) for j in felt)
    return _from_lowest_to_highest(_reach_across(piece.thickness_m, y, z, zone.radius_m) for y, z in centres)


def _zone_stations(piece: Piece, from_m: float, to_m: float) -> list[int]:
    """Stations inside a zone's run, and both around each of its ends when it is shorter than the spacing."""
    d = spacing_m(piece)
    found = {j for j, x in enumerate(piece.along_m) if from_m <= x <= to_m}
    if to_m - from_m < d:
        for end in (from_m, to_m):
            place = (end - float(piece.along_m[0])) / d
            found |= {floor(place), ceil(place)}
    return sorted(j for j in found if 0 <= j < len(piece.along_m))


def _axis_at(start: tuple[float, float, float], end: tuple[float, float, float], x: float) -> Span:
    """y, z of a rod's axis, drawn out as a straight line, in the plane at x; a rod without length stays where it is."""
    run = end[0] - start[0]
    t = (x - start[0]) / run if run > 0.0 else 0.0
    return start[1] + t * (end[1] - start[1]), start[2] + t * (end[2] - start[2])


def _blocked_by_pith(piece: Piece, window: Window) -> list[Span]:
    spans: list[Span] = []
    for line in piece.pith_m[:, window.stations]:
        reaches = (_reach_across(piece.thickness_m, float(y), float(z), UNDEFINED_WITHIN_M) for y, z in line)
        spans += _from_lowest_to_highest(reaches)
    return spans


def _reach_across(thickness_m: float, y: float, z: float, radius_m: float) -> Span | None:
    """The span of y that a round thing at y, z takes from the slice; None when it stays outside."""
    gap = max(0.0, abs(z) - thickness_m / 2.0)
    if gap >= radius_m:
        return None
    half = sqrt(radius_m**2 - gap**2)
    return y - half, y + half


def _from_lowest_to_highest(reaches: Iterable[Span | None]) -> list[Span]:
    """One span over all that are there: a thing blocks the whole window, not only its stations."""
    there = [reach for reach in reaches if reach is not None]
    return [(min(low for low, _ in there), max(high for _, high in there))] if there else []


def square_edges(piece: Piece, window: Window) -> Span:
    """The largest low edge and the smallest high edge of both faces over the window: what full-length edging leaves."""
    low = piece.low_y_m[FACES, window.stations]
    high = piece.high_y_m[FACES, window.stations]
    return float(np.max(low)), float(np.min(high))


def gaps(between: Span, taken: Sequence[Span]) -> tuple[Span, ...]:
    """What is left of one span when others are taken out of it, from low to high, empty ones left out."""
    left: list[Span] = []
    at, end = between
    for low, high in sorted(taken):
        if min(low, end) > at:
            left.append((at, min(low, end)))
        at = max(at, high)
    if end > at:
        left.append((at, end))
    return tuple(left)


def pith_spans(piece: Piece, window: Window) -> tuple[Span, ...]:
    """For each pith, the lowest and highest y it has over the window."""
    y = piece.pith_m[:, window.stations, 0]
    return tuple((float(np.min(row)), float(np.max(row))) for row in y)


def free_spans(piece: Piece, window: Window, taken: Sequence[Span], *, beside_pith: bool = False) -> tuple[Span, ...]:
    """Edged widths that could be taken, widest first and lowest y first among equals.

    beside_pith: the parts on either side of the pith count as choices of their own too.
    """
    between = square_edges(piece, window)
    found = set(gaps(between, taken))
    if beside_pith:
        found |= set(gaps(between, (*taken, *pith_spans(piece, window))))
    return tuple(sorted(found, key=lambda span: (span[0] - span[1], span[0])))


def pith_between(piece: Piece, window: Window, low_y_m: Array | float, high_y_m: Array | float) -> bool:
    """Whether a pith lies between the faces and between two edges at any station of the window."""
    y = piece.pith_m[:, window.stations, 0]
    z = piece.pith_m[:, window.stations, 1]
    return bool(np.any((np.abs(z) <= piece.thickness_m / 2.0) & (y >= low_y_m) & (y <= high_y_m)))


def pith_inside(piece: Piece) -> bool:
    """Whether a pith runs through the wood of the piece at any station: between the faces, and between the mid-plane's edges."""
    whole = Window(0, len(piece.along_m) - 1)
    return pith_between(piece, whole, piece.low_y_m[MID_PLANE], piece.high_y_m[MID_PLANE])
