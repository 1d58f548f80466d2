"""Outline drawing: a live-edge piece from above, marks hatched with their faces, the usable rectangle in dashes with its size."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.papers.ink import LATER, SMALL, WOOD, Ink
from waney.papers.svg import ABOVE, LETTER_WIDTH, Sheet, Spot
from waney.papers.words import Shop
from waney.pieces.measured import Measured

WIDE_MM = 170.0
EDGE_MM = 6.0
BESIDE_MM = 0.8


def outline_drawing(found: Measured, ink: Ink, shop: Shop) -> str:
    """SVG, the marked end to the left, the left edge (seen from there) above."""
    outline = found.piece.upper_face
    low, high = outline.edge_m.min(axis=0), outline.edge_m.max(axis=0)
    scale = (WIDE_MM - 2 * EDGE_MM) / float(high[0] - low[0])
    sheet = Sheet(WIDE_MM, float(high[1] - low[1]) * scale + 2 * EDGE_MM, ink, found.piece.name or "The piece from above")

    def spots(ring: NDArray[np.float64]) -> list[Spot]:
        return [(EDGE_MM + float(x - low[0]) * scale, EDGE_MM + float(high[1] - y) * scale) for x, y in ring]

    sheet.line(spots(outline.edge_m), WOOD, closed=True)
    for hole in outline.holes_m:
        sheet.hatched(spots(hole))
    for mark in found.piece.faces.marks:
        sheet.hatched(spots(mark.ring))
    if found.rectangle is not None:
        one = found.rectangle
        sheet.line(spots(one.corners), LATER, closed=True)
        middle = spots(np.array([[one.x_m, one.y_m]]))[0]
        sheet.letters(middle, f"{shop.long(one.length_m)} by {shop.have(one.width_m)}", SMALL, anchor="middle")
    for mark in found.piece.faces.marks:
        (right, foot), (_, head) = spots(mark.ring)[1:3]
        line = (foot + head) / 2 + ABOVE * SMALL
        words = f"{mark.kind} {mark.face or 'both'}"
        if right + len(words) * LETTER_WIDTH * SMALL > WIDE_MM - EDGE_MM:
            sheet.letters((right, foot + SMALL), words, SMALL, anchor="end")
        else:
            sheet.letters((right + BESIDE_MM, line), words, SMALL)
    return sheet.text()
