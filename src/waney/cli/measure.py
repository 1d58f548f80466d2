"""waney measure: a piece as it lies there, its area and every width and board foot that the trade counts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_piece import PieceMeasured, UsableRectangle, WidthCounted
    from waney.papers.words import Shop
    from waney.pieces.piece_sheet import SheetPiece

RULES = {
    "narrow_face_m": "narrow face",
    "mean_of_faces_m": "mean of faces",
    "mid_length_m": "mid-length",
    "widest_m": "widest",
    "narrowest_m": "narrowest place",
}
"""The trade's words for the widths of `Sizes`."""


@answering
def measure(
    sheet: Annotated[Path, typer.Argument(help="A piece sheet: length and width, or the edges.")],
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Area, usable rectangle, and width and board feet by every rule, each with its name.

    The usable rectangle keeps off holes, cracks, bark pockets, metal, punky zones and pith; sound knots stay in it.
    """
    from waney.cli.files import can_be_written
    from waney.cli.piece_sheets import piece_in
    from waney.cli.progress import working
    from waney.cli.saying import say

    can_be_written(json)
    piece = piece_in(sheet)
    with working("Measuring"):
        answer = _answer(piece.name or sheet.stem, piece)
    say(answer, json, lambda: _lines(answer, units))


@dataclass(frozen=True)
class _Taken:
    """What is worked out of a sheet's piece."""

    piece: SheetPiece

    def widths(self) -> tuple[WidthCounted, ...]:
        """Every rule, as sizes are now."""
        from waney.cli.answers_piece import WidthCounted
        from waney.pieces.counted import counted
        from waney.pieces.outline import STATIONS, piece_of
        from waney.pieces.sizes import green_sizes
        from waney.pieces.windows import Window

        one = self.piece
        wood = one.wood.id if one.wood else ""
        lying = piece_of(one.name, wood, one.true_thickness_m, one.upper_face, one.under)
        counts = counted(green_sizes(lying, Window(0, STATIONS - 1)), self.nominal_m)
        return tuple(
            WidthCounted(RULES[c.rule], c.width_m, c.area_m2, c.surface_measure, c.by_true, c.by_nominal, c.tally) for c in counts
        )

    @property
    def nominal_m(self) -> float | None:
        """What the name of the thickness says; None for one that is only measured."""
        return self.piece.thickness.metres if self.piece.thickness.quarters else None

    def rectangle(self) -> UsableRectangle | None:
        """Free of every mark but sound ones, on either face."""
        from waney.cli.answers_piece import UsableRectangle
        from waney.pieces.outline import BadEdge

        try:
            found = self.piece.wood_on_both().rectangle([mark.ring for mark in self.piece.faces.not_sound])
        except BadEdge:
            return None
        return UsableRectangle(found.length_m, found.width_m, found.angle_rad, found.x_m, found.y_m)


def _answer(name: str, piece: SheetPiece) -> PieceMeasured:
    from waney.cli.answers_piece import PieceMeasured

    taken, face = _Taken(piece), piece.upper_face
    return PieceMeasured(
        name,
        piece.wood.common if piece.wood else None,
        piece.true_thickness_m,
        taken.nominal_m,
        face.length_m,
        face.area_m2,
        piece.board_m is not None or piece.under is not None,
        taken.widths(),
        taken.rectangle(),
        tuple(f"{mark.kind}, {f'face {mark.face}' if mark.face else 'both faces'}" for mark in piece.faces.marks),
    )


def _lines(answer: PieceMeasured, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.columns import aligned

    shop = shop_of(units)
    named = "" if answer.nominal_m is None else f", called {round(answer.nominal_m / 0.00635)}/4"
    wood = f"{answer.wood}, " if answer.wood else ""
    yield f"{answer.piece}: {wood}{shop.long(answer.length_m)} long, {shop.have(answer.thickness_m)} thick{named}"
    yield f"  upper face: {_area(answer.area_m2, units)}"
    if answer.rectangle is not None:
        yield f"  usable rectangle: {shop.long(answer.rectangle.length_m)} by {shop.have(answer.rectangle.width_m)}"
    else:
        yield "  no rectangle is free of what was marked"
    if not answer.both_faces:
        yield "  only one face was measured: the rules that want both take the other one to be alike"
    yield ""
    head = ("width by rule", "width", "area", "surface measure", "board feet by measured thickness", "by its name", "tally")
    yield from aligned([head, *(_row(each, shop, units) for each in answer.widths)])
    yield "Board feet and tally: nhla-summary. A width means nothing without its rule: name it on every paper."


def _row(each: WidthCounted, shop: Shop, units: View) -> tuple[str, ...]:
    named, tally = ("-" if feet is None else f"{feet:.2f}" for feet in (each.board_feet_nominal, each.tally_board_feet))
    area = _area(each.area_m2, units)
    return (
        each.rule,
        str(shop.have(each.width_m)),
        area,
        f"{each.surface_measure_ft2}",
        f"{each.board_feet_true:.2f}",
        named,
        tally,
    )


def _area(area_m2: float, units: View) -> str:
    from waney.units.area import SQUARE_FOOT, SQUARE_METRE, print_area
    from waney.units.direction import Direction

    return print_area(area_m2, SQUARE_FOOT if units is View.INCHES else SQUARE_METRE, Direction.READ)
