"""waney grade: the hardwood grade of a board from what is wrong with its faces. Advice, not a grade stamp."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import BoardGraded, FaceGraded
    from waney.pieces.grading.edged import Edged
    from waney.pieces.grading.grade import FaceCut, Grading


@answering
def grade(
    sheet: Annotated[Path, typer.Argument(help="A piece sheet with its marks.")],
    svg: Annotated[Path | None, typer.Option(help="Draw both faces with their cuttings here (SVG).")] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """The grade that the published cutting-unit rules give a board, with the clear cuttings of both faces.

    Cuttings are the best there are, found exactly; where many marks stand close together and that cannot be
    proved, the answer says so. Rules of single woods (walnut, cherry) are not in it. A live edge is graded as what
    edging would leave of it: the largest rectangle that is wood on both faces.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written, write
    from waney.cli.piece_sheets import picture_of, piece_in
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.papers.faces import faces_drawing
    from waney.papers.ink import SCREEN
    from waney.pieces.grading.edged import edged
    from waney.pieces.grading.grade import grade as graded
    from waney.pieces.measured import with_photo

    can_be_written(json, svg)
    piece = piece_in(sheet)
    with working("Looking for cuttings"):
        whole, _ = with_photo(piece, picture_of(piece, sheet.parent), SCENARIOS)
        cut = edged(whole)
        found = graded(cut.board)
    answer = _answer(piece.name or sheet.stem, cut, found)
    say(answer, json, lambda: _lines(answer, units))
    if svg is not None:
        write(svg, faces_drawing(cut.board, found, SCREEN))


def _answer(name: str, cut: Edged, found: Grading) -> BoardGraded:
    from waney.cli.answers_piece import BoardGraded

    return BoardGraded(
        name,
        cut.board.length_m,
        cut.board.width_m,
        cut.rectangle is not None,
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
    from waney.cli.views import shop_of
    from waney.papers.cautions import cautions
    from waney.papers.grade_words import BELOW, BY_CHARTS, edged_words

    yield f"{answer.piece}: {answer.grade or BELOW}, surface measure {answer.surface_measure_ft2}"
    if answer.edged:
        yield f"  {edged_words(answer.length_m, answer.width_m, shop_of(units))}"
    yield f"  clear: {answer.clear_share * 100:.0f} % of the surface measure on the poorer face"
    for face in answer.faces:
        yield from _face_lines(face, units)
    yield from (f"  not {lack}" for lack in answer.lacks)
    yield BY_CHARTS
    yield from (caution.sentence for caution in cautions("grade"))


def _face_lines(face: FaceGraded, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.grade_words import cutting_words, not_proved, units_words

    yield f"  face {face.face}, {face.grade}: {units_words(face.units, face.needed_units, face.allowed_cuttings)}"
    if not face.exact:
        yield f"    {not_proved(face.at_most_units)}"
    for cut in face.cuttings:
        yield f"    {cutting_words((cut.x0_m, cut.x1_m, cut.y0_m, cut.y1_m), cut.units, shop_of(units))}"
