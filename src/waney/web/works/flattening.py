"""Flattening: the work that lays the planes through a piece's heights."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.problem import Problem
from waney.papers.flat_drawing import flat_drawing
from waney.papers.flat_words import ACROSS, ALONG, BY_PLANES, TOO_FEW, halves_words, off_words, shape_words
from waney.papers.ink import SCREEN
from waney.papers.words import INCHES, METRIC, Shop
from waney.pieces.flat_ways import FlatWays, flat_ways
from waney.pieces.flattening import Flattened, Heights
from waney.pieces.piece_sheet import read_piece_sheet
from waney.web.asked.flatten import FlattenAnswer, FlattenAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.work.apart import Progress


class NoHeights(Problem):
    """A sheet without heights."""


def flatten_piece(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the reader of sheets, NoHeights, NothingLeft."""
    asked = read_back(given, FlattenAsked)
    heights = read_piece_sheet(asked.sheet).heights
    if heights is None:
        raise NoHeights("No heights are told; read both faces on a grid over a level bench.")
    return as_bytes(_answer(heights, flat_ways(heights), METRIC if asked.metric else INCHES))


def _answer(heights: Heights, found: FlatWays, shop: Shop) -> FlattenAnswer:
    drawn = flat_drawing(heights, found.best, SCREEN, shop)
    n, k = heights.wood.shape
    cuts = ((ACROSS, found.across), (ALONG, found.along))
    return FlattenAnswer(
        str(shop.have(found.best.thickness_m)),
        tuple(_rows(found, shop)),
        tuple(
            halves_words(way, halves.at_m, halves.thickness_m, found.saves_m(halves), shop)
            for way, halves in cuts
            if halves is not None
        ),
        f"{n} places along, {k} across",
        BY_PLANES,
        f"{drawn.taller:.0f}",
        drawn.drawing,
    )


def _rows(found: FlatWays, shop: Shop) -> Iterator[tuple[str, str]]:
    yield "flat", _left(found.best, shop)
    even = "nothing is left so" if found.equally is None else _left(found.equally, shop)
    yield "evenly", f"as much off both faces, for balance: {even}"
    if found.read is None:
        yield "shape", TOO_FEW
    else:
        yield from shape_words(found.read.bow_m, found.read.cup_m, found.read.wind_m, shop)


def _left(planes: Flattened, shop: Shop) -> str:
    return f"{shop.have(planes.thickness_m)} left; {off_words(planes.off_upper_m, planes.off_under_m, shop)}"
