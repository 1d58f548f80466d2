"""The shop's own record, out of what the book holds; what is learned from it is `waney.trade.record`'s."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import lru_cache
from statistics import median

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_entries
from waney.pieces.sheet_told import told_in
from waney.prices.measure import whole_cents
from waney.prices.product import WidthRule
from waney.sawing.sheets.lost_fields import LOST, Lost, built_in, lost_lines
from waney.trade.custom import log_smooth_feet
from waney.trade.fetch import Costs
from waney.trade.learned import Learned
from waney.trade.log_tally import LogTally, Sawn, log_tally
from waney.trade.record import Record
from waney.yard.acts.mill import Off
from waney.yard.acts.pieces import PieceEnd
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.looking import PieceStands, settings
from waney.yard.book.record_seen import LogDone, MetalMet, PieceGot, boards_ended, days_begun, logs_done, metal_met, pieces_got
from waney.yard.book.selling_seen import woods_here
from waney.yard.problems import NotPossible
from waney.yard.services.earning import shop_terms
from waney.yard.services.hand import Hand
from waney.yard.services.lost import losses_of
from waney.yard.services.lying import lay_so
from waney.yard.services.settings import settle_for_shop
from waney.yard.services.sizes import feet_of, width_m
from waney.yard.services.waiting import climate_settled, stain_of
from waney.yard.services.woods import known_wood
from waney.yard.services.worth import shop_costs

GREEN_OVER = 0.125
"""by so much a board is sawn thicker than its name at most: 4/4 at 1 1/8 in, 8/4 at 2 1/4 (common practice, no source)"""
MOST_OF_A_WOOD = 60
"""sales that say what a wood gets now: the shop of today"""


def own_record(book: Book) -> Record:
    """What the newest logs, boards and sales say. Raises SheetProblems for a terms sheet that cannot be read."""
    settled = settings(book)
    boards, theirs, got = boards_ended(book), customers_pieces(book), pieces_got(book)
    return replace(
        sawing_record(book),
        losses=losses_of(boards, theirs),
        prices=_prices(got),
        losses_up_to=_by_thickness(boards, theirs),
        stain=stain_of(lay_so(book, boards, theirs, got), climate_settled(settled)),
        metal=_metal(metal_met(book)),
        until_the_mill=hours_until_the_mill(days_begun(book)),
    )


def sawing_record(book: Book) -> Record:
    """Only what a quote for sawing is made by: pace and yield of the newest logs. Raises SheetProblems as `own_record`."""
    allowance = shop_terms(settings(book)).allowance_m
    done = [(log, tally_of(log.log.name, log.pieces, allowance)) for log in logs_done(book)]
    whole = [(log, tally) for log, tally in done if tally.tenths and not tally.unmeasured]
    paces = tuple(tally.counted.board_feet / log.hours for log, tally in whole if log.hours)
    return Record(paces, tuple(found for log, tally in whole if (found := _yield(log, tally)) is not None))


def drying_and_sales(book: Book) -> Record:
    """Only what a tree that is offered is valued by; no sheet is measured."""
    losses = losses_of(boards_ended(book), customers_pieces(book))
    return Record(losses=losses, prices=_prices(pieces_got(book)), metal=_metal(metal_met(book)))


def _metal(logs: Iterable[MetalMet]) -> dict[bool | None, tuple[float, ...]]:
    found: dict[bool | None, list[float]] = {}
    for one in logs:
        found.setdefault(one.yard_tree, []).append(1.0 if one.met or _certain_metal(one.sheet) else 0.0)
    return {kind: tuple(sorted(cases)) for kind, cases in found.items()}


@lru_cache(maxsize=512)
def _certain_metal(sheet: str) -> bool:
    """Whether a log's sheet tells of metal that is there, not only suspected."""
    entries = told_in(sheet).get("metal", []) if "metal" in sheet else []
    return any(one.get("sure", True) is True and "chance" not in one for one in entries if isinstance(one, dict))


LEAST_WAIT, MOST_WAIT = timedelta(minutes=5), timedelta(hours=4)
"""sooner after a day was begun, and later, it was not begun as the work was: ours, a choice"""


def hours_until_the_mill(begun: Iterable[tuple[str, str]]) -> tuple[float, ...]:
    """From the moment a sawing day was begun to the first word from the mill, where that can have been setting up [h]."""
    waits = (datetime.fromisoformat(first) - datetime.fromisoformat(start) for start, first in begun)
    return tuple(sorted(wait / timedelta(hours=1) for wait in waits if LEAST_WAIT <= wait <= MOST_WAIT))


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
    the piece that it was asked for, None where a size of it is not known [cents]; counts: a board foot, by them and by what
    the costs sheet says it earns."""

    least: float
    middle: float
    most: float
    count: int
    for_this: int | None
    counts: Learned


def such_wood(book: Book, piece: PieceStands) -> SuchWood | None:
    """By the newest sales of its wood; None where none was sold or the wood is not known."""
    wood = known_wood(piece.species)
    typed = [each for each in woods_here(book) if known_wood(each) == wood] if wood else []
    seen = _prices(pieces_got(book, typed, MOST_OF_A_WOOD)).get(wood, ()) if typed else ()
    if not seen:
        return None
    size, middle = feet_of(piece), median(seen)
    counts = Record(prices={wood: seen}).price(_costs(settings(book)), wood)
    return SuchWood(seen[0], middle, seen[-1], len(seen), whole_cents(size * middle) if size else None, counts)


def _costs(settled: Mapping[str, str]) -> Costs:
    try:
        return shop_costs(settled).costs
    except Problem:  # a sheet that cannot be read says nothing
        return Costs()
