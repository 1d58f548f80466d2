"""As counted: the sizes by which a measured piece is counted, priced and listed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class AsCounted:
    """Sizes [m], widths by each rule between square cuts; area_m2 of a face, of both their mean where both were measured."""

    thickness_m: float
    length_m: float
    narrow_face_m: float
    mean_of_faces_m: float
    mid_length_m: float
    widest_m: float
    narrowest_m: float
    area_m2: float
