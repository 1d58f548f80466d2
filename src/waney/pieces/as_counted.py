"""As counted: the sizes by which a piece is counted, priced and listed; it loads nothing, so that whoever keeps sizes can."""

from __future__ import annotations

from dataclasses import dataclass


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

    @property
    def widths_m(self) -> tuple[float, ...]:
        """By each rule."""
        return (self.narrow_face_m, self.mean_of_faces_m, self.mid_length_m, self.widest_m, self.narrowest_m)


@dataclass(frozen=True)
class AsCounted(Sizes):
    """Of a piece as it lies: length and widths between square cuts; area_m2 of a face, the mean of both where both were
    measured."""

    area_m2: float
