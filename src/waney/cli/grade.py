"""waney grade: the hardwood grade of a board from what is wrong with its faces. Advice, not a grade stamp."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import BoardGraded, FaceGraded
    from waney.pieces.grading.grade import Board, FaceCut, Grading
    from waney.pieces.piece_sheet import SheetPiece


@answering
def grade(
    sheet: Annotated[Path, typer.Argument(help="A piece sheet with length, width and marks.")],
    svg: Annotated[Path | None, typer.Option(help="Draw both faces with their cuttings here (SVG).")] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """The grade that the published cutting-unit rules give a board, with the clear cuttings of both faces.

    Cuttings are the best there are, found exactly; where many marks stand close together and that cannot be
    proved, the answer says so. Rules of single woods (walnut, cherry) are not in it.
    """
    from waney.cli.files import can_be_written, write
    from waney.cli.piece_sheets import piece_in
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.papers.faces import faces_drawing
    from waney.papers.ink import SCREEN
    from waney.pieces.grading.grade import grade as graded

    can_be_written(json, svg)
    piece = piece_in(sheet)
    board = _board(piece)
    with working("Looking for cuttings"):
        found = graded(board)
    answer = _answer(piece.name or sheet.stem, found)
    say(answer, json, lambda: _lines(answer, units))
    if svg is not None:
        write(svg, faces_drawing(board, found, SCREEN))


def _board(piece: SheetPiece) -> Board:
    from waney.pieces.grading.grade import Board

    if piece.board_m is None:
        raise WrittenWrong("A live edge has no grade: write length and width of what edging leaves, in place of [edges].")
    return Board(*piece.board_m, piece.faces, piece.kiln_dried)


def _answer(name: str, found: Grading) -> BoardGraded:
    from waney.cli.answers_piece import BoardGraded

    return BoardGraded(
        name,
        found.grade.name if found.grade else None,
        found.surface_measure,
        found.clear_share,
        tuple(_face(cut) for cut in found.cuts),
        found.lacks,
    )


def _face(cut: FaceCut) -> FaceGraded:
    from waney.cli.answers_piece import CuttingFound, FaceGraded

    way, found = cut.way, cut.found
    cuttings = tuple(CuttingFound(*each.box_m, each.units) for each in found.cuttings)
    return FaceGraded(
        str(cut.face),
        cut.rule.name,
        way.units if way else None,
        way.cuttings if way else None,
        found.units,
        found.exact,
        found.at_most,
        cuttings,
    )


def _lines(answer: BoardGraded, units: View) -> Iterator[str]:
    from waney.papers.cautions import cautions

    named = answer.grade or "below every grade"
    yield f"{answer.piece}: {named}, surface measure {answer.surface_measure_ft2}"
    yield f"  clear: {answer.clear_share * 100:.0f} % of the surface measure on the poorer face"
    for face in answer.faces:
        yield from _face_lines(face, units)
    yield from (f"  not {lack}" for lack in answer.lacks)
    yield "From summary charts of the published rules (nhla-summary); rules of single woods are not counted."
    yield from (caution.sentence for caution in cautions("grade"))


def _face_lines(face: FaceGraded, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of

    shop = shop_of(units)
    needed = "" if face.needed_units is None else f" of {face.needed_units:g} needed"
    number = "any number of cuttings" if face.allowed_cuttings is None else f"at most {face.allowed_cuttings}"
    yield f"  face {face.face}, {face.grade}: {face.units:.1f} units{needed}, {number}"
    if not face.exact:
        yield f"    the best that was found; not proved, at most {face.at_most_units:.1f} could be had"
    for cut in face.cuttings:
        size = f"{shop.have(cut.y1_m - cut.y0_m)} by {shop.long(cut.x1_m - cut.x0_m)}"
        place = f"{shop.along(cut.x0_m)} from the marked end, {shop.read(cut.y0_m)} from the marked edge"
        yield f"    {size}, {cut.units:.1f} units, {place}"
