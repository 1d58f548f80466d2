"""waney target: the sheet that lies on a live-edge piece in its photo."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import TargetPrinted


@answering
def target(
    file: Annotated[Path, typer.Argument(help="The sheet to be written (PDF).", metavar="{file}")],
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """The printed target that gives a photo of a piece its scale, its slant and its lens.

    On US letter with inches, on A4 with millimetres. Print two, at 100 %; measure the long row; lay both on the face.
    """
    from waney.cli.answers_piece import TargetPrinted
    from waney.cli.files import can_be_written, write
    from waney.cli.saying import say
    from waney.cli.views import shop_of
    from waney.papers.target import target_pdf
    from waney.pieces.photo.target import COUNT, LONG_ROW_M

    can_be_written(file, json)
    shop = shop_of(units)
    write(file, target_pdf(shop, date.today()))
    answer = TargetPrinted(str(file), shop.paper, COUNT, LONG_ROW_M)
    say(answer, json, lambda: _lines(answer, units))


def _lines(answer: TargetPrinted, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of

    long_row = shop_of(units).read(answer.long_row_m)
    yield f"{answer.marks} marks; the long row, mark 1 to mark 10, is {long_row} when it is printed at 100 %: measure it."
