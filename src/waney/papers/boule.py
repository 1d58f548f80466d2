"""Boule map: the end of a log that was sawn, its pieces in order with their names, to put them together again as they grew."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median

from waney.figures.problem import Problem
from waney.papers.ink import CHALK, DIMENSION, FAR_END, LARGE, PAPER, WOOD
from waney.papers.paper import Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.svg import ABOVE, Sheet, spread
from waney.papers.words import Shop, said

WIDE_MM, TALL_MM = 166.0, 175.0
NAMES_MM, SIZES_MM = 44.0, 34.0
GAP_MM = 7.2
"""least distance between names"""
A_PAGE = 22
"""pieces in one drawing"""
_STACKED = "Stack it in this order, every butt end the same way, each face upon the face it was sawn from."


class NoBoule(Problem):
    """Pieces of which no boule can be drawn."""


@dataclass(frozen=True)
class BoulePiece:
    """One piece of a boule, green; widths of its upper and lower face at the butt end, None: not known. Metres."""

    name: str
    thickness_m: float
    upper_m: float | None = None
    lower_m: float | None = None


def boule_map(name: str, below: str, pieces: Sequence[BoulePiece], shop: Shop, printed: date) -> Paper:
    """The map of a boule out of its pieces, the first that came off on top. Raises NoBoule."""
    parts = (*_drawn(name, pieces, shop), *in_order(pieces, "from the top", _STACKED, shop))
    return paper("Boule map", name, below, parts, shop, printed)


def _drawn(name: str, pieces: Sequence[BoulePiece], shop: Shop) -> Iterator[Part]:
    if not pieces or min(piece.thickness_m for piece in pieces) <= 0:
        raise NoBoule(f"{name}: a boule has one piece or more, and each has a thickness; measure those that have none.")
    for first in range(0, len(pieces), A_PAGE):
        some = pieces[first : first + A_PAGE]
        if len(pieces) > A_PAGE:
            yield Heading(f"{some[0].name} to {some[-1].name}")
        yield Picture(
            _stack(name, some, shop).text(), f"Butt end of {name}, from the top: " + ", ".join(one.name for one in some)
        )


def in_order(pieces: Sequence[BoulePiece], order: str, how: str, shop: Shop) -> Iterator[Part]:
    """The pieces as a table. order: what the first column counts; how: how to stack them."""
    yield Sentence(said(how))
    yield warn("stack", "straps")
    columns = (Column(order, 0.8, figures=True), Column("name", 1.6), Column("thick", figures=True), Column("spot, remark", 2))
    rows = ((cell(str(i)), cell(piece.name), cell(shop.have(piece.thickness_m)), ()) for i, piece in enumerate(pieces, 1))
    yield Table(columns, tuple(rows), 9.0)


def _stack(name: str, pieces: Sequence[BoulePiece], shop: Shop) -> Sheet:
    """Pieces on each other, each as wide as it is, the first on top; names beside them."""
    known = [width for piece in pieces for width in (piece.upper_m, piece.lower_m) if width is not None]
    usual = median(known) if known else 3 * max(piece.thickness_m for piece in pieces)
    high = sum(piece.thickness_m for piece in pieces)
    scale = min((WIDE_MM - NAMES_MM - SIZES_MM) / max([usual, *known]), TALL_MM / high)
    tall = max(scale * high, GAP_MM * len(pieces))
    sheet = Sheet(WIDE_MM, tall + 14.0, PAPER, f"{name}, butt end")
    top = 10.0 + (tall - scale * high) / 2
    middles = []
    for piece in pieces:
        _one(sheet, piece, usual, scale, top)
        middles.append(top + scale * piece.thickness_m / 2)
        top += scale * piece.thickness_m
    for piece, middle, y in zip(pieces, middles, spread(middles, GAP_MM, 10.0, 10.0 + tall), strict=True):
        _beside(sheet, piece, usual, scale, middle, y, shop)
    sheet.letters((1.0, 5.0), "Butt end", LARGE, bold=True)
    return sheet


def _widths(piece: BoulePiece, usual: float) -> tuple[float, float]:
    upper = piece.upper_m if piece.upper_m is not None else piece.lower_m
    lower = piece.lower_m if piece.lower_m is not None else upper
    return (usual if upper is None else upper), (usual if lower is None else lower)


def _one(sheet: Sheet, piece: BoulePiece, usual: float, scale: float, top: float) -> None:
    """The end of a piece; dashed where no width is known."""
    upper, lower = (scale * width / 2 for width in _widths(piece, usual))
    bottom, x = top + scale * piece.thickness_m, NAMES_MM + (WIDE_MM - NAMES_MM - SIZES_MM) / 2
    known = piece.upper_m is not None or piece.lower_m is not None
    for side in (-1, 1):
        sheet.line([(x + side * upper, top), (x + side * lower, bottom)], WOOD if known else FAR_END)
    for y, half in ((top, upper), (bottom, lower)):
        sheet.line([(x - half, y), (x + half, y)], CHALK if known else FAR_END)


def _beside(sheet: Sheet, piece: BoulePiece, usual: float, scale: float, middle: float, y: float, shop: Shop) -> None:
    half = scale * sum(_widths(piece, usual)) / 4
    x = NAMES_MM + (WIDE_MM - NAMES_MM - SIZES_MM) / 2
    base = y + ABOVE * LARGE
    sheet.letters((1.0, base), piece.name, LARGE, bold=True)
    right = WIDE_MM - SIZES_MM + 2.0
    sheet.line([(NAMES_MM - 7.0, y), (NAMES_MM - 4.0, y), (NAMES_MM - 1.0, middle), (x - half, middle)], DIMENSION)
    sheet.line([(x + half, middle), (right - 3.0, middle), (right, y), (right + 2.0, y)], DIMENSION)
    sheet.measure((right + 3.5, base), shop.have(piece.thickness_m), LARGE * 0.9)
