"""Measured: all that a piece sheet, and the photo it may name, say of a piece: outline, area, counts by every rule, rectangle."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace

import numpy as np
from numpy.typing import NDArray

from waney.figures.scenarios import Scenarios
from waney.pieces.as_counted import AsCounted, Sizes
from waney.pieces.counted import Counted, counted
from waney.pieces.outline import BadEdge, piece_of, square_window
from waney.pieces.photo.photo_sheet import SheetPhoto
from waney.pieces.photo.refine import drawn_targets
from waney.pieces.photo.traced import Traced, traced
from waney.pieces.piece_sheet import SheetPiece
from waney.pieces.rectangle import Rectangle
from waney.pieces.sizes import green_sizes

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Measured:
    """piece: with its outline; trace: what a photo gave, None without one; sizes: between square cuts; counts: by every width
    rule; rectangle: free of every mark but sound ones on either face, None where none is."""

    piece: SheetPiece
    trace: Traced | None
    sizes: Sizes
    counts: tuple[Counted, ...]
    rectangle: Rectangle | None

    @property
    def nominal_m(self) -> float | None:
        """What the name of the thickness says; None for one that is only measured."""
        return nominal_of(self.piece)

    @property
    def widest_m(self) -> float:
        """The width by the rule that gives most: what a room does to it is seen there."""
        return max(count.width_m for count in self.counts)

    @property
    def as_counted(self) -> AsCounted:
        """The sizes by which it is counted from now on."""
        faces = [self.piece.upper_face, *([self.piece.under] if self.piece.under else [])]
        return AsCounted(**asdict(self.sizes), area_m2=sum(face.area_m2 for face in faces) / len(faces))

    @property
    def both_faces(self) -> bool:
        """Whether the under face was measured too; a board has two alike."""
        return self.piece.board_m is not None or self.piece.under is not None


def nominal_of(piece: SheetPiece) -> float | None:
    """What the name of the thickness says."""
    return piece.thickness.metres if piece.thickness.quarters else None


def measured(piece: SheetPiece, grey: Array | None, scenarios: Scenarios) -> Measured:
    """A piece with what follows from its sheet; grey: the picture its photo names. Raises BadEdge, BadTaps, BadPhoto."""
    whole, trace = with_photo(piece, grey, scenarios)
    wood = whole.wood.id if whole.wood else ""
    lying = piece_of(whole.name, wood, whole.true_thickness_m, whole.upper_face, whole.under)
    sizes = green_sizes(lying, square_window(lying))
    return Measured(whole, trace, sizes, counted(sizes, nominal_of(whole)), _rectangle(whole))


def with_photo(piece: SheetPiece, grey: Array | None, scenarios: Scenarios) -> tuple[SheetPiece, Traced | None]:
    """The piece with outline and marks of the photo that it names, and what was traced there. Raises BadTaps, BadPhoto."""
    if piece.photo is None:
        return piece, None
    trace = _traced(piece.photo, grey, scenarios)
    return piece.with_trace(trace), trace


def _traced(photo: SheetPhoto, grey: Array | None, scenarios: Scenarios) -> Traced:
    if grey is None:
        return traced(photo.photo, scenarios)
    size = (grey.shape[1], grey.shape[0])
    return traced(replace(photo.photo, size_px=size, targets=drawn_targets(grey, size, photo.photo.targets)), scenarios)


def _rectangle(piece: SheetPiece) -> Rectangle | None:
    try:
        return piece.wood_on_both().rectangle([mark.ring for mark in piece.faces.not_sound])
    except BadEdge:
        return None
