"""The shop's own record, out of what the book holds; what is learned from it is `waney.trade.record`'s."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import median

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_entries
from waney.pieces.measures import board_feet
from waney.prices.measure import whole_cents
from waney.prices.product import WidthRule
from waney.sawing.sheets.lost_fields import LOST, Lost, built_in, lost_lines
from waney.trade.custom import log_smooth_feet
from waney.trade.log_tally import LogTally, Sawn, log_tally
from waney.trade.record import Record
from waney.yard.acts.mill import Off
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.looking import PieceStands, settings
from waney.yard.book.record_seen import LogDone, PieceGot, boards_ended, logs_done, pieces_got
from waney.yard.book.selling_seen import woods_here
from waney.yard.problems import NotPossible
from waney.yard.services.earning import GONE, shop_terms, width_m
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.woods import known_wood

GREEN_OVER = 0.125
"""by so much a board is sawn thicker than its name at most: 4/4 at 1 1/8 in, 8/4 at 2 1/4 (common practice, no source)"""
MOST_OF_A_WOOD = 60
"""sales that say what a wood gets now: the shop of today"""
LEAST_BOARDS = 3
"""of a log, before its share of losses is one"""


def own_record(book: Book) -> Record:
    """What the newest logs, boards and sales say. Raises SheetProblems for a terms sheet that cannot be read."""
    allowance = shop_terms(settings(book)).allowance_m
    done = [(log, tally_of(log.log.name, log.pieces, allowance)) for log in logs_done(book)]
    whole = [(log, tally) for log, tally in done if tally.tenths and not tally.unmeasured]
    paces = tuple(tally.counted.board_feet / log.hours for log, tally in whole if log.hours)
    yields = tuple(found for log, tally in whole if (found := _yield(log, tally)) is not None)
    boards, theirs = boards_ended(book), customers_pieces(book)
    return Record(paces, yields, losses_of(boards, theirs), _prices(pieces_got(book)), _by_thickness(boards, theirs))


def drying_and_sales(book: Book) -> Record:
    """Only what a tree that is offered is valued by; no sheet is read."""
    return Record(losses=losses_of(boards_ended(book), customers_pieces(book)), prices=_prices(pieces_got(book)))


def write_losses(hand: Hand) -> None:
    """The record of losses by thickness goes into the wants sheet ([[lost]]), in the place of the one that was there; plans made
    from now on count it. Raises NotPossible without a wants sheet, CannotAdd."""
    sheet, record = settings(hand.book).get(Setting.WANTS, ""), own_record(hand.book)
    if not sheet:
        raise NotPossible("There is no wants sheet yet; write it in the settings first.")
    now = [Lost(one.up_to_m, record.loss_up_to(one.up_to_m, one.share).now or one.share) for one in built_in()]
    settle_for_shop(hand, Setting.WANTS, with_entries(sheet, LOST, lost_lines(now)))


def tally_of(log: str, pieces: tuple[PieceStands, ...], allowance_m: float | None) -> LogTally:
    """The tally of a log; what was sawn up counts as what it was sawn into."""
    return log_tally(log, map(_sawn, (piece for piece in pieces if piece.ended != PieceEnd.SAWN)), allowance_m)


def _sawn(piece: PieceStands) -> Sawn:
    width = width_m(piece, WidthRule.MEAN_OF_FACES)
    return Sawn(piece.name, piece.thickness_m, width, piece.length_m, piece.how == Off.SPOILED)


def _yield(log: LogDone, tally: LogTally) -> float | None:
    scale = smooth_feet(log.log.sheet)
    return tally.counted.board_feet / scale if scale else None


@lru_cache(maxsize=512)
def smooth_feet(sheet: str) -> float:
    """A log by International without rounding; 0 for a sheet that is not read without its scan, or cannot be."""
    try:
        return log_smooth_feet(sheet)
    except Problem:
        return 0.0


def losses_of(boards: Iterable[PieceStands], theirs: Collection[str]) -> tuple[float, ...]:
    """By volume, of each log with enough of the shop's own boards of which it is known what became. theirs: customers'."""
    logs: dict[str, list[tuple[float, bool]]] = {}
    for piece in boards:
        size = feet_of(piece)
        if size and piece.id not in theirs:
            logs.setdefault(piece.log, []).append((size, piece.ended in GONE))
    whole = [boards for _, boards in sorted(logs.items()) if len(boards) >= LEAST_BOARDS]
    return tuple(sum(size for size, lost in boards if lost) / sum(size for size, _ in boards) for boards in whole)


def _by_thickness(boards: Sequence[PieceStands], theirs: Collection[str]) -> dict[float, tuple[float, ...]]:
    """The same of boards as thick as the built-in figures part them, by the nominal thickness that each class ends with [m]."""
    classes = [one.up_to_m for one in built_in()]
    classed: dict[float, list[PieceStands]] = {}
    for piece in boards:
        if piece.thickness_m is not None:
            up_to = next(each for each in classes if piece.thickness_m <= _green(each))
            classed.setdefault(up_to, []).append(piece)
    return {up_to: losses_of(some, theirs) for up_to, some in sorted(classed.items())}


def _green(nominal_m: float) -> float:
    """What boards of a nominal thickness are sawn to at most [m]."""
    return nominal_m * (1.0 + GREEN_OVER)


def _prices(got: Iterable[PieceGot]) -> dict[str, tuple[float, ...]]:
    found: dict[str, list[float]] = {}
    for one in got:
        size = feet_of(one.piece)
        if size:
            found.setdefault(known_wood(one.piece.species), []).append(one.cents / size)
    return {wood: tuple(sorted(cents)) for wood, cents in sorted(found.items())}


@dataclass(frozen=True)
class SuchWood:
    """What pieces of a wood were sold for: a board foot, least, middle and most [cents]; how many; and what the middle makes of
    the piece that it was asked for, None where a size of it is not known [cents]."""

    least: float
    middle: float
    most: float
    count: int
    for_this: int | None


def such_wood(book: Book, piece: PieceStands) -> SuchWood | None:
    """By the newest sales of its wood; None where none was sold or the wood is not known."""
    wood = known_wood(piece.species)
    typed = [each for each in woods_here(book) if known_wood(each) == wood] if wood else []
    seen = _prices(pieces_got(book, typed, MOST_OF_A_WOOD)).get(wood, ()) if typed else ()
    if not seen:
        return None
    size, middle = feet_of(piece), median(seen)
    return SuchWood(seen[0], middle, seen[-1], len(seen), whole_cents(size * middle) if size else None)


def feet_of(piece: PieceStands) -> float:
    """Board feet of a piece by its thickness as it is and the middle of its widths; 0 where a size is not known."""
    width = width_m(piece, WidthRule.MEAN_OF_FACES)
    if piece.thickness_m is None or piece.length_m is None or width is None:
        return 0.0
    return board_feet(width, piece.length_m, piece.thickness_m, thin_counts_as_inch=True)
