"""waney sell: pieces sold, once, with their taxes and a receipt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import AnswerIsNo, WrittenWrong, answering
from waney.cli.books import YARD, FilesIn, Where, lies_at
from waney.cli.views import Json

if TYPE_CHECKING:
    from waney.cli.answers_money import SaleWritten
    from waney.trade.tax import TaxLine
    from waney.yard.acts.promises import PricedPiece
    from waney.yard.acts.sales import PaidBy
    from waney.yard.book.book import Book
    from waney.yard.book.looking import PieceStands
    from waney.yard.services.hand import Hand


@answering
def sell(
    pieces: Annotated[list[str], typer.Argument(help="The names on their tags.", metavar="{name}...")],
    book: Where = YARD,
    files: FilesIn = None,
    price: Annotated[
        list[str] | None, typer.Option(metavar="<money>", help="For each piece, in their order; else what is asked.")
    ] = None,
    to: Annotated[str, typer.Option(help="What to call the buyer; nothing else is kept of anybody.")] = "",
    goes_to: Annotated[str, typer.Option(help="The state or country that the wood goes to, nothing nearer.")] = "",
    paid: Annotated[str, typer.Option(help="cash, card, transfer, check or owed.")] = "cash",
    on: Annotated[str | None, typer.Option(metavar="<date>", help="The day; else today.")] = None,
    breaks_set: Annotated[bool, typer.Option("--breaks-set", help="A set may be parted by this sale.")] = False,
    json: Json = None,
) -> None:
    """Sell pieces, once: whoever holds them settles their hold; a piece promised to somebody else is refused with the reason.

    Tax lines are those of the settled terms sheet. Ends with code 3 when a piece cannot be sold, and names others like it.
    """
    from waney.cli.files import can_be_written
    from waney.cli.money import currency_of, day_or_today, hand_of, piece_named
    from waney.cli.saying import say
    from waney.trade.tax import tax_lines
    from waney.yard.acts.sales import PaidBy
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings
    from waney.yard.services.earning import shop_terms

    can_be_written(json)
    if paid not in list(PaidBy):
        raise WrittenWrong(f"--paid: {paid!r} is none of {', '.join(PaidBy)}.")
    opened = open_book(lies_at(book, files))
    settled = settings(opened)
    currency = currency_of(settled)
    found = [piece_named(opened, written) for written in pieces]
    priced = _priced(opened, found, price or [], currency)
    taxes = tax_lines([each.cents for each in priced], shop_terms(settled).taxes)
    hand = hand_of(opened)
    sale = _sell(hand, priced, to, day_or_today(on).isoformat(), taxes, PaidBy(paid), breaks_set, goes_to.strip())
    answer = _answer(opened, sale, paid, currency)
    say(answer, json, lambda: _lines(answer))


def _priced(book: Book, some: Sequence[PieceStands], typed: Sequence[str], currency: str) -> list[PricedPiece]:
    from waney.cli.money import typed_cents
    from waney.yard.acts.promises import PricedPiece
    from waney.yard.book.selling_seen import prices_asked

    if typed and len(typed) != len(some):
        raise WrittenWrong(f"--price stands {len(typed)} times for {len(some)} pieces; write one for each or none.")
    if typed:
        cents = [typed_cents(text, "--price", currency) for text in typed]
        return [PricedPiece(piece.id, each) for piece, each in zip(some, cents, strict=True)]
    asked = prices_asked(book, [piece.id for piece in some])
    without = [piece.name for piece in some if piece.id not in asked]
    if without:
        raise WrittenWrong(f"Nothing is asked for {', '.join(without)} yet; add --price for each piece.")
    return [PricedPiece(piece.id, asked[piece.id][0]) for piece in some]


def _sell(
    hand: Hand,
    priced: Sequence[PricedPiece],
    called: str,
    on: str,
    taxes: Sequence[TaxLine],
    paid: PaidBy,
    breaks_set: bool,
    goes_to: str,
) -> str:
    """The id of the sale. Raises AnswerIsNo."""
    from waney.yard.problems import Refused
    from waney.yard.services.selling import sell_to

    taken = [(line.words, line.cents) for line in taxes]
    try:
        return sell_to(hand, priced, called, on, taken, paid, breaks_set=breaks_set, goes_to=goes_to)
    except Refused as no:
        raise AnswerIsNo(f"{no}{_others(hand.book, priced, on)}") from None


def _others(book: Book, priced: Sequence[PricedPiece], today: str) -> str:
    from waney.yard.book.selling_seen import promises
    from waney.yard.services.nearest import others_like

    gone = [each.piece for each in priced if each.piece in promises(book, today)]
    found = [other.name for other in others_like(book, gone[0], today)] if gone else []
    return f" Nearest to it: {', '.join(found)}." if found else ""


def _answer(book: Book, sale: str, paid: str, currency: str) -> SaleWritten:
    from waney.cli.answers_money import SaleWritten, SoldLine
    from waney.yard.book.looking import names_of
    from waney.yard.book.selling_seen import sales

    [told] = sales(book, sale=sale)
    names = names_of(book, [f"piece:{part.piece}" for part in told.pieces])
    parts = tuple(
        sorted((SoldLine(names[f"piece:{part.piece}"], part.cents) for part in told.pieces), key=lambda line: line.piece)
    )
    total = told.with_tax_cents
    return SaleWritten(told.id, told.on, told.called, currency, parts, told.taxes, total, paid, told.owed_cents)


def _lines(answer: SaleWritten) -> Iterator[str]:
    from waney.cli.money import said
    from waney.papers.cautions import cautions

    yield f"Sold on {answer.on}{f' to {answer.buyer}' if answer.buyer else ''}:"
    for line in answer.pieces:
        yield f"  {line.piece}: {said(line.cents, answer.currency)}"
    for words, cents in answer.taxes:
        yield f"  {words}: {said(cents, answer.currency)}"
    yield f"Sum: {said(answer.total_cents, answer.currency)}, {answer.paid_by}"
    if answer.owed_cents > 0:
        yield f"Still owed: {said(answer.owed_cents, answer.currency)}"
    if answer.owed_cents < 0:
        yield f"To be given back: {said(-answer.owed_cents, answer.currency)}"
    yield from (caution.sentence for caution in cautions("sale"))
