"""Face map: what is wrong with the two faces of a piece, and where. One frame for both faces, metres.

x runs along from the marked end, y across from the marked edge; the same end and the same edge for both faces, so that a
knot that goes through has the same place on both.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem

Array = NDArray[np.float64]


class BadMark(Problem):
    """A mark that is nowhere on the piece."""


class Face(StrEnum):
    """The two faces: A was up when sawn, or is the better one where nobody knows."""

    A = "A"
    B = "B"

    @property
    def other(self) -> Face:
        """The reverse side."""
        return Face.B if self is Face.A else Face.A


FACES: Mapping[str, Face | None] = MappingProxyType({"a": Face.A, "b": Face.B, "both": None})
"""How a sheet says on which face a mark is; both: through the piece."""


class MarkKind(StrEnum):
    """What a mark is."""

    KNOT = "knot"
    """sound and tight"""
    HOLE = "hole"
    """a loose or fallen knot too"""
    CRACK = "crack"
    BARK_POCKET = "bark pocket"
    METAL = "metal"
    PUNKY = "punky"
    PITH = "pith"
    WANE = "wane"
    STAIN = "stain"


MARK_KINDS: Mapping[str, MarkKind] = MappingProxyType({str(kind): kind for kind in MarkKind})
"""Every kind by its word."""
SOUND = frozenset({MarkKind.KNOT, MarkKind.STAIN})
"""Marks that a sound cutting may hold. Holes under 1/4 in are no marks; of larger ones the rule admits a few, which is not
counted here: a sound cutting of ours holds none. Source: nhla-sound-cutting."""


@dataclass(frozen=True)
class Mark:
    """A box round one thing on one face, or through both (`face` None), from x0, y0 to x1, y1 [m]."""

    kind: MarkKind
    face: Face | None
    x0_m: float
    x1_m: float
    y0_m: float
    y1_m: float
    note: str = ""

    def __post_init__(self) -> None:
        if not (self.x0_m < self.x1_m and self.y0_m < self.y1_m):
            raise BadMark(f"A {self.kind} has no length or no width; give it both, a crack the width that it spoils.")

    def on(self, face: Face) -> bool:
        """Whether it shows on this face."""
        return self.face is None or self.face is face

    @classmethod
    def around(cls, kind: MarkKind, face: Face | None, ring_m: Array) -> Mark:
        """The box round a ring of points (n, 2) [m]."""
        (x0, y0), (x1, y1) = ring_m.min(axis=0), ring_m.max(axis=0)
        return cls(kind, face, float(x0), float(x1), float(y0), float(y1))

    @property
    def words(self) -> str:
        """What it is, and where it shows."""
        return f"{self.kind}, {f'face {self.face}' if self.face else 'both faces'}"

    @property
    def ring(self) -> Array:
        """Its four corners in turn, (4, 2) [m]."""
        x0, x1, y0, y1 = self.x0_m, self.x1_m, self.y0_m, self.y1_m
        return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])

    @property
    def mean_diameter_m(self) -> float:
        """Half of its length and width together."""
        return ((self.x1_m - self.x0_m) + (self.y1_m - self.y0_m)) / 2.0


@dataclass(frozen=True)
class FaceMap:
    """All marks of a piece."""

    marks: tuple[Mark, ...] = ()

    def not_clear(self, face: Face) -> tuple[Mark, ...]:
        """What a clear cutting on this face keeps away from: every mark on it, and what is unsound on the reverse."""
        return tuple(mark for mark in self.marks if mark.on(face) or mark.kind not in SOUND)

    @property
    def not_sound(self) -> tuple[Mark, ...]:
        """What a sound cutting keeps away from, on either face."""
        return tuple(mark for mark in self.marks if mark.kind not in SOUND)

    def of(self, face: Face, *kinds: MarkKind) -> tuple[Mark, ...]:
        """Marks of these kinds on a face."""
        return tuple(mark for mark in self.marks if mark.on(face) and mark.kind in kinds)
