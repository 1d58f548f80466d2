"""What a piece sheet says of a photo: its taps in pixels, and where the targets lay."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.pieces.face_map import FACES, MARK_KINDS, Face, MarkKind
from waney.pieces.photo.fit import TappedTarget
from waney.pieces.photo.target import COUNT, LONG_ROW_M
from waney.pieces.photo.traced import BESIDE, NOT_LOOKED, ON_FACE, Photo
from waney.units.sheet import Table
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, choice, list_of, number, shown, text

LIES: Mapping[str, Estimate] = MappingProxyType({"not looked at": NOT_LOOKED, "on the face": ON_FACE, "beside": BESIDE})
"""Where the targets lay, as a sheet and a form say it, what nobody said first."""
BETWEEN_M = 0.003
"""Half of the 90 % range of a height that was read with a rule."""
NOT_TAPPED = "-"
Spot = tuple[float, float]
Ring = tuple[Spot, ...]
NO_RING: Ring = ()
LEAST_RING = 3
"""Places that enclose something."""
NO_TAPS: tuple[Spot | None, ...] = ()


@dataclass(frozen=True)
class TappedMark:
    """What was tapped on the face: what it is, on which face (None: through both), and the taps round it."""

    kind: MarkKind
    face: Face | None
    ring: Ring


@dataclass(frozen=True)
class SheetPhoto:
    """file: the picture, "" when there are only taps; photo: the taps, size (0, 0) until the picture tells it.

    marks: what is wrong with its faces, in the order of the photo's rings."""

    file: str
    photo: Photo
    marks: tuple[TappedMark, ...]

    def sized(self, wide: int, tall: int) -> SheetPhoto:
        """With the size of the picture."""
        return replace(self, photo=replace(self.photo, size_px=(wide, tall)))


def read_photo(sheet: Table, measures: Measures) -> SheetPhoto | None:
    """The [photo] of a sheet; what is wrong with it is noted there."""
    table = sheet.inside("photo")
    if table is None:
        return None
    file = table.take("file", text) or ""
    size = (0, 0) if file else table.need("size", _size, (1, 1))
    edge = table.need("edge", list_of(_spot), NO_RING)
    table.take("corners", list_of(number(0.0, 1e5)))  # for the page that goes on with these taps
    tapping = table.take("tapping", number(0.1, 100.0)) or 3.0
    long_row = table.take("long_row", measures.length_from(0.5 * LONG_ROW_M, 2.0 * LONG_ROW_M))
    scale = (long_row or LONG_ROW_M) / LONG_ROW_M
    targets = [_target(each, tapping, scale) for each in table.entries("target")]
    holes = tuple(each.need("edge", list_of(_spot), NO_RING) for each in table.entries("hole"))
    marks = tuple(_tapped_mark(each) for each in table.entries("mark"))
    over = _over(table, measures)
    taped = tuple(table.take(name, measures.length_from(1e-2)) for name in ("taped_length", "taped_width"))
    if not targets:
        table.note("target", "a photo needs one [[photo.target]] or more, each with the taps on its marks.")
    kept = tuple(target for target in targets if target is not None)
    photo = Photo(size, kept, edge, holes, tapping, over, long_row is not None, tuple(mark.ring for mark in marks), *taped)
    return SheetPhoto(file, photo, marks)


def _tapped_mark(table: Table) -> TappedMark:
    kind = table.need("kind", choice(MARK_KINDS), MarkKind.KNOT)
    face = table.take("face", choice(FACES)) if table.has("face") else Face.A
    ring = table.need("edge", list_of(_spot), NO_RING)
    if len(ring) < LEAST_RING:
        table.note("edge", f"tap {LEAST_RING} places round it at least; a crack is as wide as what it spoils.")
    return TappedMark(kind, face, ring)


def _over(table: Table, measures: Measures) -> Estimate:
    """How far the face stands over the targets: a word, or a height that was read."""
    lies = table.take("lies", choice(LIES))
    height = table.take("face_over_target", measures.length)
    if height is None:
        return lies or NOT_LOOKED
    if lies is not None:
        table.note("lies", "write either where the target lies, or how far the face stands over it.")
    return Estimate(height, height - BETWEEN_M, height + BETWEEN_M, Basis(Ground.READING, "a rule"))


def _target(table: Table, tapping: float, scale: float) -> TappedTarget | None:
    taps = table.need("marks", list_of(_mark), NO_TAPS)
    if len(taps) != COUNT:
        table.note(
            "marks",
            f'a target has {COUNT} marks, 1 to {COUNT}; write [across, down] for each, "{NOT_TAPPED}" where it was not tapped.',
        )
        return None
    try:
        return TappedTarget({n + 1: tap for n, tap in enumerate(taps) if tap is not None}, tapping, scale)
    except Problem as problem:
        table.note("marks", str(problem))
        return None


def _mark(value: object) -> Spot | None:
    return None if value == NOT_TAPPED else _spot(value)


def _spot(value: object) -> Spot:
    if not isinstance(value, list) or len(value) != 2:
        raise NotThat(
            f"{shown(value)} is no place in the picture; write pixels from its left and from its top, as in [1204, 880]."
        )
    across, down = (number(-1e5, 1e5)(each) for each in value)
    return across, down


def _size(value: object) -> tuple[int, int]:
    across, down = _spot(value)
    if not (across >= 100 and down >= 100):
        raise NotThat(f"{shown(value)} is no picture's size; write its pixels across and down, as in [4000, 3000].")
    return int(across), int(down)
