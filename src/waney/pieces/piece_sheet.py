"""Piece sheet: one piece as it lies there. Its sizes or its edges, what is wrong with its faces, heights for flattening.

Places along are counted from the marked end, places across from the marked edge (a board) or the straight line (a live edge).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import accumulate
from math import nan

import numpy as np

from waney.figures.problem import Problem
from waney.pieces.face_map import FACES, MARK_KINDS, FaceMap, Mark, MarkKind
from waney.pieces.flattening import Heights
from waney.pieces.outline import Outline, from_offsets
from waney.pieces.photo.photo_sheet import SheetPhoto, read_photo
from waney.pieces.photo.traced import Traced
from waney.pieces.scanned_faces import EVERY_M
from waney.units.length import length_of
from waney.units.sheet import Reader, Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, list_of, text, yes_no
from waney.units.thickness import Thickness
from waney.wood.species import Species, species

FORMAT = "waney-piece/1"
GRAINS = ("flat", "rift", "quarter")
"""How the rings stand in the end, 0 to 30 to 60 to 90 degrees to the face."""
NONE = "-"
"""Written where there is no wood to read a height of."""
Rows = tuple[tuple[float, ...], ...]
NO_PLACES: tuple[float, ...] = ()
NO_ROWS: Rows = ()


@dataclass(frozen=True)
class SheetScan:
    """Files of points of both faces over one level bench; under "": the piece is evenly thick. every_m: side of the squares."""

    upper: str
    under: str
    unit_m: float
    every_m: float


@dataclass(frozen=True)
class SheetPiece:
    """What a piece sheet says; None where it says nothing. A board, a piece with an outline of one or both faces, or heights."""

    name: str
    wood: Species | None
    thickness: Thickness
    true_thickness_m: float
    mc: float | None
    grain: str
    """flat, rift, quarter; "" when not said"""
    kiln_dried: bool
    board_m: tuple[float, float] | None
    """length, width"""
    outline: Outline | None
    under: Outline | None
    faces: FaceMap
    heights: Heights | None
    photo: SheetPhoto | None = None
    scan: SheetScan | None = None

    @property
    def upper_face(self) -> Outline:
        """The outline of the upper face, a board's too."""
        if self.outline is not None:
            return self.outline
        if self.board_m is None and self.photo is not None:
            raise NoEdges("The outline of this piece is in its photo; it is traced first.")
        if self.board_m is None:
            raise NoEdges("Nothing says how long and how wide this piece is; write length and width, or [edges].")
        length, width = self.board_m
        return from_offsets([0.0, length], [width, width], [0.0, 0.0])

    def with_trace(self, found: Traced) -> SheetPiece:
        """With the outline and the marks that were tapped in its photo."""
        tapped = self.photo.marks if self.photo else ()
        marks = (Mark.around(one.kind, one.face, ring) for one, ring in zip(tapped, found.marks_m, strict=True))
        return replace(self, outline=found.outline, faces=FaceMap((*self.faces.marks, *marks)))

    def wood_on_both(self) -> Outline:
        """Where both faces are wood, the under face taken like the upper one when nobody looked. Raises BadEdge."""
        return self.upper_face if self.under is None else self.upper_face.overlap(self.under)


def read_piece_sheet(content: str) -> SheetPiece:
    """The piece of a sheet. Raises SheetProblems with all that is wrong in it, each with its line."""
    sheet = open_sheet(content, FORMAT)
    measures = Measures.of(sheet)
    wood = sheet.take("species", lambda value: species(text(value)))
    thickness = sheet.need("thickness", measures.thickness, Thickness(1.0))
    true = sheet.take("true_thickness", measures.length_from(1e-4))
    outline, under = (_outline(sheet, heading, measures) for heading in ("edges", "under"))
    read = SheetPiece(
        name=sheet.take("name", text) or "",
        wood=wood,
        thickness=thickness,
        true_thickness_m=true or thickness.metres,
        mc=sheet.take("mc", measures.mc),
        grain=sheet.take("grain", choice({word: word for word in GRAINS})) or "",
        kiln_dried=sheet.take("kiln_dried", yes_no) or False,
        board_m=_board(sheet, measures),
        outline=outline,
        under=under,
        faces=FaceMap(tuple(mark for table in sheet.entries("mark") if (mark := _mark(table, measures)))),
        heights=_heights(sheet, measures),
        photo=read_photo(sheet, measures),
        scan=_scan(sheet, measures),
    )
    sheet.check()
    return read


def _board(sheet: Table, measures: Measures) -> tuple[float, float] | None:
    """Length and width; a sheet with edges has none, one that only says heights may do without."""
    size: Reader[float] = measures.length_from(1e-3)
    if sheet.has("edges") or sheet.has("photo"):
        return None
    if (sheet.has("heights") or sheet.has("scan")) and not (sheet.has("length") or sheet.has("width")):
        return None
    return sheet.need("length", size, 1.0), sheet.need("width", size, 1.0)


def _outline(sheet: Table, heading: str, measures: Measures) -> Outline | None:
    """Both edges by their distances from a straight line along the piece."""
    table = sheet.inside(heading)
    if table is None:
        return None
    every = table.take("every", measures.length_from(1e-3))
    at = table.take("at", list_of(measures.length))
    either = list_of(lambda value: _either_side(value, measures))
    left, right = (table.need(side, either, NO_PLACES) for side in ("left", "right"))
    if (every is None) == (at is None):
        table.note("at", "say where the edges were read, once: at = [...] or every = ...")
        return None
    places = at or tuple(accumulate([0.0] + [every or 0.0] * (len(left) - 1)))
    try:
        return from_offsets(places, left, right)
    except Problem as problem:
        table.note("left", str(problem))
        return None


def _mark(table: Table, measures: Measures) -> Mark | None:
    kind = table.need("kind", choice(MARK_KINDS), MarkKind.KNOT)
    face = table.take("face", choice(FACES))
    at = table.need("at", measures.length, 1.0)
    across = table.need("across", lambda value: _either_side(value, measures), 1.0)
    long, wide = (table.need(key, measures.length_from(1e-4), 1.0) for key in ("long", "wide"))
    return Mark(kind, face, at - long / 2, at + long / 2, across - wide / 2, across + wide / 2, table.take("note", text) or "")


def _either_side(value: object, measures: Measures) -> float:
    """A distance from the straight line, below zero to the right of it."""
    if isinstance(value, int | float) and value < 0:
        return -measures.length(-value)
    if isinstance(value, str) and value.strip().startswith("-"):
        return -measures.length(value.strip()[1:])
    return measures.length(value)


def _heights(sheet: Table, measures: Measures) -> Heights | None:
    """Heights of both faces on a grid, or of the upper one and the thickness below it."""
    table = sheet.inside("heights")
    if table is None:
        return None

    def height(value: object) -> float:
        return nan if value == NONE else measures.length(value)

    rows: Reader[Rows] = list_of(list_of(height))
    at, across = (table.need(key, list_of(measures.length), NO_PLACES) for key in ("at", "across"))
    upper = table.need("upper", rows, NO_ROWS)
    under, thickness = table.take("under", rows), table.take("thickness", rows)
    if (under is None) == (thickness is None):
        table.note("under", "give the under face once: its own heights, or the thickness under each height of the upper one.")
        return None
    try:
        above = _grid(upper, at, across)
        below = _grid(under, at, across) if under is not None else above - _grid(thickness or (), at, across)
        return Heights(np.array(at), np.array(across), below, above)
    except Problem as problem:
        table.note("upper", str(problem))
        return None


def _scan(sheet: Table, measures: Measures) -> SheetScan | None:
    table = sheet.inside("scan")
    if table is None:
        return None
    if sheet.has("heights"):
        table.note("", "heights are read either from [heights] or from a [scan]; leave one out.")
    upper, under = table.need("upper", text, ""), table.take("under", text) or ""
    unit = table.need("unit", lambda value: length_of(1.0, text(value)), 1.0)
    return SheetScan(upper, under, unit, table.take("every", measures.length_from(1e-3)) or EVERY_M)


class NoEdges(Problem):
    """A piece whose outline is not known yet."""


class BadGrid(Problem):
    """Rows of heights that do not fit their places."""


def _grid(rows: Rows, at: tuple[float, ...], across: tuple[float, ...]) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    if [len(row) for row in rows] != [len(across)] * len(at):
        raise BadGrid(
            f"These are {len(rows)} rows; write one for each of the {len(at)} places along, with {len(across)} heights in each."
        )
    return np.array(rows, dtype=np.float64)
