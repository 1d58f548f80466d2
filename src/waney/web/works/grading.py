"""Grading: the work that grades a piece by its sheet, as the board that it is or that edging would leave."""

from __future__ import annotations

from waney.papers.faces import faces_drawing
from waney.papers.grade_words import BELOW, BY_CHARTS, cutting_words, edged_words, not_proved, units_words
from waney.papers.ink import SCREEN
from waney.papers.words import INCHES, METRIC, Shop, share
from waney.pieces.grading.edged import Edged, edged
from waney.pieces.grading.grade import FaceCut, Grading, grade
from waney.pieces.measured import with_photo
from waney.pieces.piece_sheet import read_piece_sheet
from waney.web.asked.grade import FaceSaid, GradeAnswer, GradeAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.works.measuring import SCENARIOS, picture_of
from waney.work.apart import Progress

WIDE_MM = 100.0
"""so narrow that its letters are read on a phone"""


def grade_piece(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of sheets and photos, NoShape, NoBoard, TooManyMarks."""
    asked = read_back(given, GradeAsked)
    whole, _ = with_photo(read_piece_sheet(asked.sheet), picture_of(asked.picture), SCENARIOS)
    cut = edged(whole)
    return as_bytes(_answer(cut, grade(cut.board), METRIC if asked.metric else INCHES))


def _answer(cut: Edged, found: Grading, shop: Shop) -> GradeAnswer:
    board = cut.board
    sizes = f"{shop.long(board.length_m)} by {shop.have(board.width_m)}"
    return GradeAnswer(
        found.grade.name if found.grade else BELOW,
        found.surface_measure,
        share(found.clear_share),
        sizes if cut.rectangle is None else edged_words(board.length_m, board.width_m, shop),
        len(board.faces.marks),
        tuple(_face(one, shop) for one in found.cuts),
        found.lacks,
        BY_CHARTS,
        faces_drawing(board, found, SCREEN, WIDE_MM),
    )


def _face(cut: FaceCut, shop: Shop) -> FaceSaid:
    way, found = cut.way, cut.found
    return FaceSaid(
        str(cut.face),
        cut.rule.name,
        units_words(found.units, way.units if way else None, way.cuttings if way else None),
        "" if found.exact else not_proved(found.at_most),
        tuple(cutting_words((b[0], b[1], b[2], b[3]), one.units, shop) for one in found.cuttings for b in (one.box_m,)),
    )
