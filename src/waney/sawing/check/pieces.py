"""A planned piece against the slice that its two passes leave: place, sizes, pith, rings, zones."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing
from waney.logs.rings import RingField
from waney.pieces.piece import Piece, PieceZone
from waney.sawing.check.inside import Rod, half_width
from waney.sawing.check.sections import Sections
from waney.sawing.check.slices import MIDDLE, NO_WIDTH_M, Slice
from waney.sawing.check.verdict import Difference, Reason

Array = NDArray[np.float64]

SAME_M = 1e-6
SAME_TURN = 1e-7


def slice_of(piece: Piece, sections: Sections, lower_m: float, upper_m: float, kerf_m: float) -> Slice:
    """The slice that a piece claims to be, once everything on it was found to agree; else Difference."""
    _check_thickness(piece, upper_m - lower_m, kerf_m)
    first, last = _check_place_along(piece, sections)
    cut = Slice(sections, lower_m, upper_m, first, last)
    _check_place(piece, cut)
    _check_edges(piece, cut)
    _check_sawn(piece, cut)
    _check_pith(piece, cut)
    _check_zones(piece, cut)
    return cut


def _check_thickness(piece: Piece, thickness_m: float, kerf_m: float) -> None:
    off = piece.thickness_m - thickness_m
    if abs(abs(off) - kerf_m) <= SAME_M < kerf_m:
        raise Difference(
            Reason.KERF, f"{piece.name} is a kerf off: {piece.thickness_m:.6f} m, the passes leave {thickness_m:.6f} m."
        )
    if abs(off) > SAME_M:
        raise Difference(Reason.SIZE, f"{piece.name} is {piece.thickness_m:.6f} m thick; the passes leave {thickness_m:.6f} m.")


def _to_log(piece: Piece) -> Placing:
    if piece.to_log is None:
        raise Difference(Reason.PLACE, f"{piece.name} does not say where in the log it lies.")
    return piece.to_log


def _check_place_along(piece: Piece, sections: Sections) -> tuple[int, int]:
    """First and last station of the lie that the piece spans."""
    along, w = piece.along_m, sections.w_m
    middle = float(sections.lie.there(np.array(_to_log(piece).shift))[2])
    first = int(np.argmin(np.abs(w - (middle + along[0]))))
    last = first + len(along) - 1
    if last >= len(w) or float(np.max(np.abs(middle + along - w[first : last + 1]))) > SAME_M:
        raise Difference(Reason.PLACE, f"The stations of {piece.name} are not stations of its lie.")
    return first, last


def _centre(cut: Slice) -> tuple[float, float, float]:
    """u, v, w of the centre of the bounding box."""
    return cut.box_middle_u_m, cut.middle_m, float(cut.w_m[0] + cut.w_m[-1]) / 2


def _check_place(piece: Piece, cut: Slice) -> None:
    if not cut.stations_with_wood:
        raise Difference(Reason.AIR, f"{piece.name} has no wood on any of its planes.")
    missing = [i for i in cut.stations_with_wood if not cut.first <= i <= cut.last]
    if missing:
        raise Difference(Reason.SIZE, f"{piece.name} leaves out {len(missing)} stations where it has wood.")
    to_saw = placing(np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]]), np.array(_centre(cut)))
    expected, claimed = cut.sections.lie.inverse().after(to_saw), _to_log(piece)
    turned = float(np.max(np.abs(np.array(expected.turn) - np.array(claimed.turn))))
    moved = float(np.max(np.abs(np.array(expected.shift) - np.array(claimed.shift))))
    if turned > SAME_TURN or moved > SAME_M:
        raise Difference(
            Reason.PLACE, f"{piece.name} is said to lie {moved:.6f} m and {turned:.1e} (turn) from where it was cut."
        )


def _check_edges(piece: Piece, cut: Slice) -> None:
    u = cut.box_middle_u_m
    for name, claimed, found in (("low", piece.low_y_m, cut.low - u), ("high", piece.high_y_m, cut.high - u)):
        off = _apart(claimed, found, cut)
        if off > SAME_M:
            raise Difference(Reason.SIZE, f"The {name} edge of {piece.name} is {off:.6f} m from where it was cut.")


def _apart(claimed: Array, found: Array, cut: Slice) -> float:
    """The largest difference; no chord and a chord of no width are the same."""
    thin = np.nan_to_num(cut.high - cut.low) <= NO_WIDTH_M
    one_missing = np.isnan(claimed) != np.isnan(found)
    if bool(np.any(one_missing & ~thin)):
        return float("inf")
    return float(np.nanmax(np.where(one_missing, 0.0, np.abs(claimed - found)), initial=0.0))


def sawn_edges(cut: Slice) -> tuple[bool, bool]:
    """Whether the low and the high edge lie on a sawn plane wherever there is wood, on all three planes."""
    on_plane = [True, True]
    for height, low, high in zip((cut.lower_m, cut.middle_m, cut.upper_m), cut.low, cut.high, strict=True):
        for i in np.flatnonzero(~np.isnan(low)):
            room = cut.sections.between_planes(cut.first + int(i), height) or (np.nan, np.nan)
            on_plane[0] &= bool(abs(low[i] - room[0]) <= SAME_M)
            on_plane[1] &= bool(abs(high[i] - room[1]) <= SAME_M)
    return on_plane[0], on_plane[1]


def _check_sawn(piece: Piece, cut: Slice) -> None:
    if sawn_edges(cut) != piece.sawn_edges:
        raise Difference(Reason.SIZE, f"{piece.name} names the wrong edges as sawn.")


def _check_pith(piece: Piece, cut: Slice) -> None:
    u, v, _ = _centre(cut)
    expected = cut.piths - np.array([u, v])
    if piece.pith_m.shape != expected.shape or float(np.max(np.abs(piece.pith_m - expected))) > SAME_M:
        raise Difference(Reason.RINGS, f"The pith of {piece.name} is not where the log's pith passes it.")
    if piece.rings is None or not _same_rings(piece.rings, cut.sections.left.shape.rings):
        raise Difference(Reason.RINGS, f"The rings of {piece.name} are not the log's.")


def _same_rings(a: RingField, b: RingField) -> bool:
    pairs = ((a.z_m, b.z_m), (a.pith_m, b.pith_m), (a.reach_m, b.reach_m))
    return all(x.shape == y.shape and bool(np.allclose(x, y, rtol=0.0, atol=SAME_M)) for x, y in pairs)


def _check_zones(piece: Piece, cut: Slice) -> None:
    for zone in piece.zones:
        if not any(_same_zone(zone, rod, piece, cut) for rod in cut.rods):
            raise Difference(Reason.METAL, f"{piece.name} shows {zone.kind.value} where the log has none.")
    for rod in cut.rods:
        if _reaches(rod, cut) and not any(_covers(zone, rod, piece, cut) for zone in piece.zones):
            raise Difference(Reason.METAL, f"{piece.name} does not show the {rod.kind.value} inside it.")


def _ends(zone: PieceZone, piece: Piece, cut: Slice) -> Array:
    """Both ends of a piece's zone in the saw frame (2, 3), rising in w."""
    ends = cut.sections.lie.there(_to_log(piece).there(np.array([zone.start_m, zone.end_m])))
    return ends if ends[0, 2] <= ends[1, 2] else ends[::-1]


def _same_zone(zone: PieceZone, rod: Rod, piece: Piece, cut: Slice) -> bool:
    alike = zone.kind is rod.kind and abs(zone.radius_m - rod.radius_m) <= SAME_M and abs(zone.chance - rod.chance) <= SAME_TURN
    ends = _ends(zone, piece, cut)
    on_axis = all(np.hypot(*np.subtract(rod.centre(float(end[2])), end[:2])) <= SAME_M for end in ends)
    within = rod.start[2] - SAME_M <= ends[0, 2] and ends[1, 2] <= rod.end[2] + SAME_M
    return bool(alike and on_axis and within)


def _covers(zone: PieceZone, rod: Rod, piece: Piece, cut: Slice) -> bool:
    ends = _ends(zone, piece, cut)
    from_w, to_w = max(rod.start[2], cut.w_m[0]), min(rod.end[2], cut.w_m[-1])
    return _same_zone(zone, rod, piece, cut) and bool(ends[0, 2] <= from_w + SAME_M and ends[1, 2] >= to_w - SAME_M)


def _reaches(rod: Rod, cut: Slice) -> bool:
    """Whether the rod comes clearly into the wood of the slice at a station."""
    for i, w in enumerate(cut.w_m):
        if rod.start[2] <= w <= rod.end[2]:
            u, v = rod.centre(float(w))
            half = half_width(rod.radius_m - SAME_M, v, cut.lower_m, cut.upper_m)
            if half is not None and u + half > cut.low[MIDDLE, i] and u - half < cut.high[MIDDLE, i]:
                return True
    return False
