"""Green and dry sizes of a piece. Dry sizes of a piece whose log is not known have the range from flat to quarter grain."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from waney.figures.estimate import Basis, Estimate, Ground
from waney.pieces.piece import Piece
from waney.pieces.ring_samples import samples
from waney.pieces.shrinking import Shrinking
from waney.pieces.widths import (
    mean_of_faces_width_m,
    mid_length_width_m,
    narrow_face_width_m,
    narrowest_width_m,
    widest_width_m,
)
from waney.pieces.windows import Window

_KNOWN = Basis(Ground.SOURCE, "fpl-gtr-282", "Eq 4-9 at the piece's own ring angles")
_NOT_KNOWN = Basis(Ground.SOURCE, "fpl-gtr-282", "Eq 4-9; log not known, so anything from flat to quarter grain")


@dataclass(frozen=True)
class Sizes:
    """Thickness, length and the widths by every rule [m], green or dry."""

    thickness_m: float
    length_m: float
    narrow_face_m: float
    mean_of_faces_m: float
    mid_length_m: float
    widest_m: float
    narrowest_m: float


def green_sizes(piece: Piece, window: Window) -> Sizes:
    """Sizes as sawn between two stations; raises NoWidth where a face is missing."""
    return Sizes(
        thickness_m=piece.thickness_m,
        length_m=float(piece.along_m[window.last] - piece.along_m[window.first]),
        narrow_face_m=narrow_face_width_m(piece, window),
        mean_of_faces_m=mean_of_faces_width_m(piece, window),
        mid_length_m=mid_length_width_m(piece, window),
        widest_m=widest_width_m(piece, window),
        narrowest_m=narrowest_width_m(piece, window),
    )


def dry_sizes(piece: Piece, window: Window, shrinking: Shrinking) -> Sizes:
    """The same, rough, at the target MC and likely ring angles; the length stays (0.1 to 0.2 % along the grain)."""
    c2 = samples(piece).mean_c2
    green, left = green_sizes(piece, window), shrinking.width_left(c2)
    return Sizes(
        thickness_m=green.thickness_m * shrinking.thickness_left(c2),
        length_m=green.length_m,
        narrow_face_m=green.narrow_face_m * left,
        mean_of_faces_m=green.mean_of_faces_m * left,
        mid_length_m=green.mid_length_m * left,
        widest_m=green.widest_m * left,
        narrowest_m=green.narrowest_m * left,
    )


def dry_thickness(piece: Piece, shrinking: Shrinking) -> Estimate:
    """Rough thickness at the target MC [m]."""
    return _over_ring_angles(piece, piece.thickness_m, shrinking.thickness_left)


def dry_width(piece: Piece, green_width_m: float, shrinking: Shrinking) -> Estimate:
    """What a green width of the piece measures at the target MC [m]."""
    return _over_ring_angles(piece, green_width_m, shrinking.width_left)


def _over_ring_angles(piece: Piece, green_m: float, left: Callable[[float], float]) -> Estimate:
    found = samples(piece)
    likely = green_m * left(found.mean_c2)
    if found.known:
        return Estimate.known(likely, _KNOWN)
    ends = (green_m * left(0.0), green_m * left(1.0))
    return Estimate(likely, min(ends), max(ends), _NOT_KNOWN)
