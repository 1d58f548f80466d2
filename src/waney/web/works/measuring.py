"""Measuring: the work that measures a piece as it lies, from its sheet and its photo."""

from __future__ import annotations

from base64 import b64decode
from collections import Counter
from collections.abc import Iterator
from io import BytesIO

from waney.figures.scenarios import Scenarios
from waney.papers.cautions import cautions
from waney.papers.ink import SCREEN
from waney.papers.outline_drawing import outline_drawing
from waney.papers.width_words import WIDTH_WORDS
from waney.papers.words import INCHES, METRIC, Shop
from waney.pieces.counted import Counted
from waney.pieces.face_map import FaceMap
from waney.pieces.grading.grade import Board, grade
from waney.pieces.measured import Measured, measured
from waney.pieces.photo.picture import read_grey
from waney.pieces.piece_sheet import SheetPiece, read_piece_sheet
from waney.units.area import SQUARE_FOOT, SQUARE_METRE, print_area
from waney.units.direction import Direction
from waney.web.asked.measure import MeasureAnswer, MeasureAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)


def measure_piece(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of sheets and photos."""
    asked = read_back(given, MeasureAsked)
    shop = METRIC if asked.metric else INCHES
    picture = read_grey(BytesIO(b64decode(asked.picture)), "the photo") if asked.picture else None
    found = measured(read_piece_sheet(asked.sheet), picture, SCENARIOS)
    widths = tuple(_width(count, shop) for count in found.counts)
    advice = () if found.trace is None else found.trace.advice
    drawing = outline_drawing(found, SCREEN, shop)
    return as_bytes(MeasureAnswer(tuple(_rows(found, shop)), widths, advice, drawing, tuple(_graded(found.piece))))


def _rows(found: Measured, shop: Shop) -> Iterator[tuple[str, str]]:
    piece = found.piece
    yield "Long", str(shop.long(piece.upper_face.length_m))
    if found.square_m < piece.upper_face.length_m - 0.01:
        yield "Between square cuts", f"{shop.long(found.square_m)}; widths and board feet are counted over it"
    yield "Thick", str(shop.have(piece.true_thickness_m))
    yield "Upper face", _area(piece.upper_face.area_m2, shop)
    if found.trace is not None:
        area = found.trace.area_m2
        yield "Nine in ten within", f"{_area(area.low, shop)} to {_area(area.high, shop)}"
    rectangle = found.rectangle
    usable = None if rectangle is None else f"{shop.long(rectangle.length_m)} by {shop.have(rectangle.width_m)}"
    yield "Usable rectangle", usable or "none is free of what was marked"
    if piece.faces.marks:
        yield "Marked", _marked(piece.faces)
    if not found.both_faces:
        yield "Faces", "one was measured; rules that want both take the other to be alike"


def _graded(piece: SheetPiece) -> Iterator[str]:
    """What the published rules make of a board with these marks, and what keeps it from a better grade."""
    if piece.board_m is None:
        return
    found = grade(Board(*piece.board_m, piece.faces, piece.kiln_dried))
    clear = (
        f"{found.clear_share * 100:.0f} % of the surface measure of {found.surface_measure} in clear cuttings on the poorer face"
    )
    yield f"{found.grade.name if found.grade else 'Below every grade'}: {clear}."
    yield from (f"Not {lack}" for lack in found.lacks)
    yield from (caution.sentence for caution in cautions("grade"))


def _marked(faces: FaceMap) -> str:
    """Every mark in words, alike ones once with their number."""
    counts = Counter(mark.words for mark in faces.marks)
    return "; ".join(words if number == 1 else f"{words} ({number} of them)" for words, number in counts.items())


def _width(count: Counted, shop: Shop) -> tuple[str, str, str, str, str]:
    named = "-" if count.by_nominal is None else f"{count.by_nominal:.2f}"
    return WIDTH_WORDS[count.rule], str(shop.have(count.width_m)), f"{count.surface_measure}", f"{count.by_true:.2f}", named


def _area(area_m2: float, shop: Shop) -> str:
    return print_area(area_m2, SQUARE_METRE if shop.sizes.metric else SQUARE_FOOT, Direction.READ)
