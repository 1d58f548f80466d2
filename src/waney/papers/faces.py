"""Faces: both faces of a board drawn flat, its marks hatched, the cuttings of a grade chalked on with their units."""

from __future__ import annotations

from collections.abc import Sequence

from waney.papers.ink import CHALK, SMALL, WOOD, Ink
from waney.papers.svg import Sheet, Spot
from waney.pieces.face_map import Face
from waney.pieces.grading.grade import Board, Grading

WIDE_MM = 170.0
EDGE_MM = 8.0
BoxOf = tuple[float, float, float, float]


def faces_drawing(board: Board, found: Grading, ink: Ink, wide_mm: float = WIDE_MM) -> str:
    """SVG of both faces, seen from above with the marked end to the left and the marked edge below."""
    grade = found.grade.name if found.grade else "below the grades"
    scale = (wide_mm - 2 * EDGE_MM) / board.length_m
    sheets = [_face(board, found, face, scale, ink) for face in Face]
    sheets[0].title = f"Cuttings on both faces: {grade}"
    sheets[0].below(sheets[1])
    return sheets[0].text()


def _face(board: Board, found: Grading, face: Face, scale: float, ink: Ink) -> Sheet:
    high = board.width_m * scale
    sheet = Sheet(board.length_m * scale + 2 * EDGE_MM, high + 3 * EDGE_MM, ink, f"Face {face}")

    def corners(box: BoxOf) -> Sequence[Spot]:
        x0, x1, y0, y1 = box
        places = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        return [(EDGE_MM + x * scale, 2 * EDGE_MM + high - y * scale) for x, y in places]

    cut = next(each for each in found.cuts if each.face is face)
    sheet.letters((EDGE_MM, EDGE_MM), f"Face {face}, {cut.rule.name}: {cut.found.units:.1f} units", SMALL, bold=True)
    sheet.line(corners((0.0, board.length_m, 0.0, board.width_m)), WOOD, closed=True)
    for mark in board.faces.marks:
        if mark.on(face):
            x0, x1, y0, y1 = (
                max(0.0, mark.x0_m),
                min(board.length_m, mark.x1_m),
                max(0.0, mark.y0_m),
                min(board.width_m, mark.y1_m),
            )
            if x0 < x1 and y0 < y1:
                sheet.hatched(corners((x0, x1, y0, y1)))
    for cutting in cut.found.cuttings:
        spots = corners(cutting.box_m)
        sheet.line(spots, CHALK, closed=True)
        middle = (sum(x for x, _ in spots) / 4, sum(y for _, y in spots) / 4 + SMALL * 0.36)
        sheet.letters(middle, f"{cutting.units:.1f}", SMALL, anchor="middle")
    return sheet
