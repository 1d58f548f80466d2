"""Target: the sheet that lies on a live-edge piece in its photo. Twelve chequered marks with their numbers, in true size."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import cos, pi, sin

from waney.papers.ink import PAPER, SMALL, Stroke
from waney.papers.svg import Sheet, Spot
from waney.papers.typeset import pdf, pictures
from waney.papers.words import Shop
from waney.pieces.photo.target import ACROSS, ALONG, LONG_ROW_M, MARK_RADIUS_M, PITCH_M, marks_m

PAGES_MM = {"us-letter": (215.9, 279.4), "a4": (210.0, 297.0)}
ARC = 16
"""Straight strokes in a quarter of a circle; they stray from it by 0.07 mm."""
NUMBER_MM = 6.0
ROW = Stroke(0.35)
WORDS_AFTER_MARK = (4, 7)
"""Rows of words stand below the marks that begin the second and the third row."""


@dataclass(frozen=True)
class TargetWords:
    """What the form sets: the drawing fills the page."""

    title: str
    paper: str
    svg: str
    shows: str


def target_pdf(shop: Shop, printed: date) -> bytes:
    """The target on this shop's paper."""
    return pdf("target", target_words(shop), printed)


def target_picture(shop: Shop, printed: date, dots_per_inch: float) -> bytes:
    """The same as a PNG picture."""
    return pictures("target", target_words(shop), printed, dots_per_inch)[0]


def target_words(shop: Shop) -> TargetWords:
    """The sheet's one drawing."""
    apart = f"{PITCH_M * 1000:g} mm apart"
    shows = f"Twelve black and white marks, {apart}, {ACROSS} across and {ALONG} down, numbered from the top left."
    return TargetWords("Target for a photo", shop.paper, _drawing(shop), shows)


def _drawing(shop: Shop) -> str:
    wide, high = PAGES_MM[shop.paper]
    sheet = Sheet(wide, high, PAPER, "Target for a photo")
    left, top = (wide - 1000 * PITCH_M * (ACROSS - 1)) / 2, (high - 1000 * LONG_ROW_M) / 2
    places = [(left + 1000 * x, top + 1000 * (LONG_ROW_M - y)) for x, y in marks_m()]
    radius = 1000 * MARK_RADIUS_M
    for number, (x, y) in enumerate(places, 1):
        for begin in (0.0, pi):
            sheet.filled(_quarter((x, y), radius, begin))
        sheet.letters((x - radius, y + radius * 0.95), str(number), NUMBER_MM, bold=True)
    sheet.line([(places[0][0] - radius - 3, places[0][1]), (places[0][0] - radius - 3, places[9][1])], ROW)
    for end in (places[0], places[9]):
        sheet.line([(end[0] - radius - 5, end[1]), (end[0] - radius - 1, end[1])], ROW)
    _words(sheet, places, shop)
    return sheet.text()


def _quarter(middle: Spot, radius: float, begin: float) -> list[Spot]:
    """A quarter disc from an angle on, clockwise on paper from the right."""
    arc = [begin + pi / 2 * k / ARC for k in range(ARC + 1)]
    return [middle, *((middle[0] + radius * cos(a), middle[1] + radius * sin(a)) for a in arc)]


def _words(sheet: Sheet, places: list[Spot], shop: Shop) -> None:
    length = shop.read(LONG_ROW_M)
    blocks = (
        (
            "Print at 100 %, not fitted. Measure from the",
            f"middle of mark 1 to mark 10: it should be {length}.",
            "Measured: ______________",
        ),
        (
            "Lay two prints flat ON THE FACE of the piece,",
            "one near each end, not beside it or below it.",
            "Phone level over the middle, no zoom.",
        ),
    )
    for number, lines in zip(WORDS_AFTER_MARK, blocks, strict=True):
        x, y = places[number][0], (places[number - 3][1] + places[number][1]) / 2
        for k, line in enumerate(lines):
            sheet.letters((x, y + (k - 1) * 1.6 * SMALL), line, SMALL, anchor="middle")
