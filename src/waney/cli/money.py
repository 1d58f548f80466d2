"""Money on the command line: which one the shop counts in, and the hand that writes."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING
from uuid import uuid4

from waney.cli.app import WrittenWrong

if TYPE_CHECKING:
    from waney.cli.answers import Range
    from waney.yard.book.book import Book
    from waney.yard.book.looking import PieceStands
    from waney.yard.services.hand import Hand


def currency_of(settled: Mapping[str, str]) -> str:
    """The currency of the prices sheet, else of the terms or costs sheet; empty where none names one."""
    from waney.yard.services.earning import shelf_prices, shop_terms
    from waney.yard.services.worth import shop_costs

    return shelf_prices(settled).currency or shop_terms(settled).currency or shop_costs(settled).costs.currency


def said(cents: float | None, currency: str) -> str:
    """Money in words; without a currency its figure alone."""
    from waney.units.money import print_money

    if cents is None:
        return "not known"
    return print_money(round(cents), currency) if currency else f"{cents / 100:.2f}"


def ranged(money: Range | None, currency: str) -> str:
    """Money with its range."""
    if money is None:
        return "not known"
    return f"{said(money.likely, currency)} ({said(money.low, currency)} to {said(money.high, currency)})"


def typed_cents(text: str, option: str, currency: str) -> int:
    """An amount from the command line. Raises WrittenWrong below zero, Unreadable and its kinds."""
    from waney.units.money import parse_money

    found = parse_money(text, currency or None).cents
    if found < 0:
        raise WrittenWrong(f"{option}: {text!r} is below zero; write what is paid.")
    return found


def day_or_today(text: str | None, option: str = "--on") -> date:
    """A day from the command line. Raises WrittenWrong."""
    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise WrittenWrong(f"{option}: {text!r} is not a day; write for instance 2026-07-06.") from None


def hand_of(book: Book) -> Hand:
    """A hand for one command: a device of its own, nobody named."""
    from waney.yard.services.hand import Hand

    return Hand(book, str(uuid4()), "", lambda: datetime.now(UTC), lambda: str(uuid4()))


def piece_named(book: Book, written: str) -> PieceStands:
    """The piece of a name. Raises BadName, NotInBook."""
    from waney.yard.book.looking import named, pieces
    from waney.yard.problems import NotInBook
    from waney.yard.streams import parts

    found = named(book, written)
    if found is None or parts(found)[0] != "piece":
        raise NotInBook(f"No piece of this book is called {written}; look at its tag again.")
    return next(each for each in pieces(book) if each.id == parts(found)[1])
