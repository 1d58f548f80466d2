"""waney flatten: how thick a piece stays when both faces are made flat, and whether cutting it in two first saves more."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import CutFirst, PieceFlattened, Plane
    from waney.papers.words import Shop
    from waney.pieces.flat_ways import FlatWays
    from waney.pieces.flattening import Flattened, Halves, Heights
    from waney.pieces.piece_sheet import SheetPiece, SheetScan


@answering
def flatten(
    sheet: Annotated[Path, typer.Argument(help="A piece sheet with [heights] or a [scan].")],
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """The two parallel planes that leave the most thickness, what comes off each face, and wind, cup and bow.

    Between the points of the grid nothing is known: read closer where the piece is more crooked.
    """
    from waney.cli.files import can_be_written
    from waney.cli.piece_sheets import piece_in
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.pieces.flat_ways import flat_ways

    can_be_written(json)
    piece = piece_in(sheet)
    with working("Laying planes"):
        heights = piece.heights if piece.scan is None else _scanned(piece, piece.scan, sheet.parent)
        if heights is None:
            raise WrittenWrong(f"{sheet} has no [heights]: read both faces on a grid over a level bench and write them there.")
        answer = _answer(piece.name or sheet.stem, flat_ways(heights))
    say(answer, json, lambda: _lines(answer, units))


def _scanned(piece: SheetPiece, scan: SheetScan, folder: Path) -> Heights:
    """Heights from the clouds that the sheet names, beside it."""
    from waney.pieces.scanned_faces import heights_of_files

    with ExitStack() as opened:
        names = filter(None, (scan.upper, scan.under))
        files = [(name, opened.enter_context((folder / name).open("rb"))) for name in names]
        return heights_of_files(files, piece.true_thickness_m, scan.unit_m, scan.every_m)


def _answer(name: str, found: FlatWays) -> PieceFlattened:
    from waney.cli.answers_piece import PieceFlattened

    equal = None if found.equally is None else _plane(found.equally)
    read = found.read
    bow, cup, wind = (None, None, None) if read is None else (read.bow_m, read.cup_m, read.wind_m)
    across, along = (_cut(halves, found) for halves in (found.across, found.along))
    return PieceFlattened(name, _plane(found.best), equal, bow, cup, wind, across, along)


def _plane(found: Flattened) -> Plane:
    from waney.cli.answers_piece import Plane

    return Plane(found.at_m, found.slope_x, found.slope_y, found.thickness_m, found.off_under_m, found.off_upper_m)


def _cut(halves: Halves | None, found: FlatWays) -> CutFirst | None:
    from waney.cli.answers_piece import CutFirst

    if halves is None:
        return None
    parts = (_plane(halves.parts[0]), _plane(halves.parts[1]))
    return CutFirst(halves.at_m, halves.thickness_m, found.saves_m(halves), parts)


def _lines(answer: PieceFlattened, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.cautions import cautions
    from waney.papers.flat_words import ACROSS, ALONG, BY_PLANES, halves_words

    shop = shop_of(units)
    yield f"{answer.piece}: {shop.have(answer.best.thickness_m)} left when both faces are flat"
    yield f"  {_off(answer.best, shop)}"
    if answer.equal is not None:
        yield f"  as much off both faces, for balance: {shop.have(answer.equal.thickness_m)} left; {_off(answer.equal, shop)}"
    yield from _shape(answer, shop)
    for way, cut in ((ACROSS, answer.cut_across), (ALONG, answer.cut_along)):
        if cut is not None:
            yield f"  {halves_words(way, cut.at_m, cut.thickness_m, cut.saves_m, shop)}"
    yield BY_PLANES
    yield from (caution.sentence for caution in cautions("flattening"))


def _off(plane: Plane, shop: Shop) -> str:
    from waney.papers.flat_words import off_words

    return off_words(plane.off_upper_m, plane.off_under_m, shop)


def _shape(answer: PieceFlattened, shop: Shop) -> Iterator[str]:
    from waney.papers.flat_words import TOO_FEW, shape_words

    if answer.bow_m is None or answer.cup_m is None or answer.wind_m is None:
        yield f"  {TOO_FEW}"
        return
    yield from (f"  {word}: {size}" for word, size in shape_words(answer.bow_m, answer.cup_m, answer.wind_m, shop))
