"""waney flatten: how thick a piece stays when both faces are made flat, and whether cutting it in two first saves more."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import CutFirst, PieceFlattened, Plane
    from waney.papers.words import Shop
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

    can_be_written(json)
    piece = piece_in(sheet)
    with working("Laying planes"):
        heights = piece.heights if piece.scan is None else _scanned(piece, piece.scan, sheet.parent)
        if heights is None:
            raise WrittenWrong(f"{sheet} has no [heights]: read both faces on a grid over a level bench and write them there.")
        answer = _answer(piece.name or sheet.stem, heights)
    say(answer, json, lambda: _lines(answer, units))


def _scanned(piece: SheetPiece, scan: SheetScan, folder: Path) -> Heights:
    """Heights from the clouds that the sheet names, beside it."""
    from waney.logs.cloud import read_cloud
    from waney.pieces.scanned_faces import scanned_heights

    clouds = []
    for name in filter(None, (scan.upper, scan.under)):
        with (folder / name).open("rb") as stream:
            clouds.append(read_cloud(stream, name, scan.unit_m).points_m)
    under = clouds[1] if scan.under else piece.true_thickness_m
    return scanned_heights(clouds[0], under, scan.every_m)


def _answer(name: str, heights: Heights) -> PieceFlattened:
    from waney.cli.answers_piece import PieceFlattened
    from waney.pieces.flattening import BadHeights, NothingLeft, best_halves, flattened, warped

    best = flattened(heights)
    try:
        read = warped(heights)
    except BadHeights:
        read = None
    try:
        equal = _plane(flattened(heights, equally=True))
    except NothingLeft:
        equal = None
    across, along = (_cut(best_halves(heights, across=way), best) for way in (True, False))
    bow, cup, wind = (None, None, None) if read is None else (read.bow_m, read.cup_m, read.wind_m)
    return PieceFlattened(name, _plane(best), equal, bow, cup, wind, across, along)


def _plane(found: Flattened) -> Plane:
    from waney.cli.answers_piece import Plane

    return Plane(found.at_m, found.slope_x, found.slope_y, found.thickness_m, found.off_under_m, found.off_upper_m)


def _cut(halves: Halves | None, whole: Flattened) -> CutFirst | None:
    from waney.cli.answers_piece import CutFirst

    if halves is None:
        return None
    saves = halves.thickness_m - whole.thickness_m
    return CutFirst(halves.at_m, halves.thickness_m, saves, (_plane(halves.parts[0]), _plane(halves.parts[1])))


def _lines(answer: PieceFlattened, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.cautions import cautions

    shop = shop_of(units)
    yield f"{answer.piece}: {shop.have(answer.best.thickness_m)} left when both faces are flat"
    yield f"  {_off(answer.best, shop)}"
    if answer.equal is not None:
        yield f"  as much off both faces, for balance: {shop.have(answer.equal.thickness_m)} left; {_off(answer.equal, shop)}"
    yield from _shape(answer, shop)
    for way, cut in (("across", answer.cut_across), ("along", answer.cut_along)):
        if cut is not None:
            yield f"  cut in two {way} first, {_at(cut, way, shop)}: {shop.have(cut.thickness_m)} left, {_saves(cut, shop)}"
    yield "Planes through every height that was read, as a linear programme; what a saw and a last pass take is not counted."
    yield from (caution.sentence for caution in cautions("flattening"))


def _off(plane: Plane, shop: Shop) -> str:
    return f"off the upper face {shop.read(plane.off_upper_m)} on average, off the under face {shop.read(plane.off_under_m)}"


def _shape(answer: PieceFlattened, shop: Shop) -> Iterator[str]:
    if answer.bow_m is None or answer.cup_m is None or answer.wind_m is None:
        yield "  wind, cup and bow: three rows of three heights are needed to read them"
        return
    for word, height in (("bow", answer.bow_m), ("cup", answer.cup_m)):
        side = "hollow above" if height > 0 else "hollow below"
        yield f"  {word}: {shop.read(abs(height))}, {side}"
    yield f"  wind: {shop.read(abs(answer.wind_m))} at one corner over the other three"


def _at(cut: CutFirst, way: str, shop: Shop) -> str:
    return f"{shop.along(cut.at_m)} {'from the marked end' if way == 'across' else 'from the marked edge'}"


def _saves(cut: CutFirst, shop: Shop) -> str:
    saved = shop.have(cut.saves_m) if cut.saves_m > 0 else None
    return "nothing saved" if saved is None or str(saved).startswith("0 ") else f"{saved} more"
