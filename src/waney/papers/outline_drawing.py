"""Outline drawing: a live-edge piece from above, marks hatched with their faces, the usable rectangle in dashes with its size; or
both faces of one as its plan has them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.papers.ink import LATER, SMALL, WOOD, Ink
from waney.papers.svg import LETTER_WIDTH, Sheet, Spot
from waney.papers.words import Shop
from waney.pieces.measured import Measured
from waney.sawing.facts.planned_outline import OutlinePlanned

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
        right, foot = spots(mark.ring)[1]
        words = f"{mark.kind} {mark.face or 'both'}"
        if right + len(words) * LETTER_WIDTH * SMALL > WIDE_MM - EDGE_MM:
            sheet.letters((right, foot + SMALL), words, SMALL, anchor="end")
        else:
            sheet.letters((right + BESIDE_MM, foot), words, SMALL)
    return sheet.text()


def planned_drawing(found: OutlinePlanned, ink: Ink) -> str:
    """SVG of both faces from above, the butt end to the left, the under face in dashes."""
    faces = [(face.outline.edge_m, drawn) for face, drawn in ((found.upper, WOOD), (found.under, LATER)) if face is not None]
    points = np.vstack([edge for edge, _ in faces])
    low, high = points.min(axis=0), points.max(axis=0)
    scale = (WIDE_MM - 2 * EDGE_MM) / float(high[0] - low[0])
    sheet = Sheet(WIDE_MM, float(high[1] - low[1]) * scale + 2 * EDGE_MM, ink, f"{found.name} as its plan has it")
    for edge, drawn in faces:
        spots = [(EDGE_MM + float(x - low[0]) * scale, EDGE_MM + float(high[1] - y) * scale) for x, y in edge]
        sheet.line(spots, drawn, closed=True)
    return sheet.text()
