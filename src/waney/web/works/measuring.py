"""Measuring: the work that measures a piece as it lies, from its sheet and its photo."""

from __future__ import annotations

from base64 import b64decode
from collections import Counter
from collections.abc import Iterator
from io import BytesIO

import numpy as np
from numpy.typing import NDArray

from waney.figures.scenarios import Scenarios
from waney.papers.ink import SCREEN
from waney.papers.outline_drawing import outline_drawing
from waney.papers.width_words import WIDTH_WORDS
from waney.papers.words import INCHES, METRIC, Shop
from waney.pieces.counted import Counted
from waney.pieces.face_map import FaceMap
from waney.pieces.measured import Measured, measured
from waney.pieces.photo.picture import read_grey
from waney.pieces.piece_sheet import read_piece_sheet
from waney.web.asked.measure import MeasureAnswer, MeasureAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)


def measure_piece(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of sheets and photos."""
    asked = read_back(given, MeasureAsked)
    shop = METRIC if asked.metric else INCHES
    found = measured(read_piece_sheet(asked.sheet), picture_of(asked.picture), SCENARIOS)
    widths = tuple(_width(count, shop) for count in found.counts)
    advice = () if found.trace is None else found.trace.advice
    return as_bytes(
        MeasureAnswer(tuple(_rows(found, shop)), widths, advice, outline_drawing(found, SCREEN, shop), found.as_counted)
    )


def picture_of(packed: str) -> NDArray[np.float64] | None:
    """A picture in base64 as grey values; None for none. Raises NoPicture."""
    return read_grey(BytesIO(b64decode(packed)), "the photo") if packed else None


def _rows(found: Measured, shop: Shop) -> Iterator[tuple[str, str]]:
    piece = found.piece
    yield "Long", str(shop.long(piece.upper_face.length_m))
    if found.sizes.length_m < piece.upper_face.length_m - 0.01:
        yield "Between square cuts", f"{shop.long(found.sizes.length_m)}; widths and board feet are counted over it"
    yield "Thick", str(shop.have(piece.true_thickness_m))
    yield "Upper face", shop.area(piece.upper_face.area_m2)
    if found.trace is not None:
        area = found.trace.area_m2
        yield "Nine in ten within", f"{shop.area(area.low)} to {shop.area(area.high)}"
    rectangle = found.rectangle
    usable = None if rectangle is None else f"{shop.long(rectangle.length_m)} by {shop.have(rectangle.width_m)}"
    yield "Usable rectangle", usable or "none is free of what was marked"
    if piece.faces.marks:
        yield "Marked", _marked(piece.faces)
    if not found.both_faces:
        yield "Faces", "one was measured; rules that want both take the other to be alike"


def _marked(faces: FaceMap) -> str:
    """Every mark in words, alike ones once with their number."""
    counts = Counter(mark.words for mark in faces.marks)
    return "; ".join(words if number == 1 else f"{words} ({number} of them)" for words, number in counts.items())


def _width(count: Counted, shop: Shop) -> tuple[str, str, str, str, str]:
    named = "-" if count.by_nominal is None else f"{count.by_nominal:.2f}"
    return WIDTH_WORDS[count.rule], str(shop.have(count.width_m)), f"{count.surface_measure}", f"{count.by_true:.2f}", named
