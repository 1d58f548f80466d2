"""waney price: three prices of a piece side by side, above what it has cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import AnswerIsNo, WrittenWrong, answering
from waney.cli.books import YARD, FilesIn, Where, lies_at
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_money import PieceCosts, PiecePrice, PriceWay
    from waney.prices.shelf import Asked
    from waney.yard.book.book import Book
    from waney.yard.book.looking import PieceStands


@answering
def price(
    piece: Annotated[str, typer.Argument(help="The name on its tag.", metavar="{name}")],
    book: Where = YARD,
    files: FilesIn = None,
    figure: Annotated[str, typer.Option(help="For this once, a word of the prices sheet: curl, burl ...; else its own.")] = "",
    at: Annotated[str | None, typer.Option(metavar="<money>", help="Ask this from now on; it is written into the book.")] = None,
    for_buyer: Annotated[bool, typer.Option("--for-buyer", help="Only what is asked, none of our own figures.")] = False,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Price a piece by volume, by area and by the piece, side by side, with every factor and with what it has cost.

    Prices and factors are those of the prices sheet; what is missing is said. The floor is the shop's own figure.
    """
    from waney.cli.files import can_be_written
    from waney.cli.money import currency_of, hand_of, piece_named, typed_cents
    from waney.cli.saying import say
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings
    from waney.yard.problems import Refused
    from waney.yard.services.selling import price_piece

    can_be_written(json)
    if at is not None and for_buyer:
        raise WrittenWrong("--at writes a price and --for-buyer shows one; leave one out.")
    opened = open_book(lies_at(book, files))
    found = piece_named(opened, piece)
    currency = currency_of(settings(opened))
    if at is not None:
        try:
            price_piece(hand_of(opened), found.id, typed_cents(at, "--at", currency), "typed")
        except Refused as no:
            raise AnswerIsNo(str(no)) from None
    answer = _answer(opened, replace(found, figure=figure or found.figure), currency, for_buyer)
    say(answer, json, lambda: _lines(answer, units))


def _answer(book: Book, piece: PieceStands, currency: str, for_buyer: bool) -> PiecePrice:
    from waney.cli.answers_money import PiecePrice
    from waney.yard.book.looking import settings
    from waney.yard.book.selling_seen import prices_asked, promises
    from waney.yard.services.earning import price_ways, shelf_prices
    from waney.yard.services.sizes import width_m

    today = date.today()
    rule = shelf_prices(settings(book)).width_rule
    cents, way = prices_asked(book, [piece.id]).get(piece.id, (None, ""))
    promised = promises(book, today.isoformat(), piece.id).get(piece.id)
    stands = promised if promised is not None and promised.stands else None
    ways = () if for_buyer else tuple(map(_way, price_ways(book, piece, today)))
    return PiecePrice(
        piece.name, piece.species, piece.thickness_m, piece.length_m, width_m(piece, rule), str(rule), currency,
        cents, "" if for_buyer else way, stands.kind if stands else "", stands.until if stands else "",
        ways, None if for_buyer else _costs(book, piece, today, cents),
    )  # fmt: skip


def _way(asked: Asked) -> PriceWay:
    from waney.cli.answers_money import PriceWay

    per, rate = ("", None) if asked.rule is None else (str(asked.rule.per), asked.rule.cents)
    return PriceWay(str(asked.way), per, rate, asked.measure, asked.factors, asked.cents, asked.why)


def _costs(book: Book, piece: PieceStands, today: date, asked_cents: int | None) -> PieceCosts:
    from waney.cli.answers_money import PieceCosts
    from waney.trade.costing import BadCosting, below_cost
    from waney.yard.services.earning import Yard, floor_of

    yard = Yard.around(book, today, piece)
    sharing = str(yard.shop.sharing) if piece.log else ""
    try:
        floor = floor_of(yard, piece)
        return PieceCosts(floor, sharing, "", below_cost(asked_cents, floor))
    except BadCosting as bad:
        return PieceCosts(None, sharing, str(bad), 0)


def _lines(answer: PiecePrice, units: View) -> Iterator[str]:
    from waney.cli.money import said

    yield f"{answer.piece}: {answer.wood}{_sizes(answer, units)}"
    asked = "nothing yet" if answer.asked_cents is None else said(answer.asked_cents, answer.currency)
    yield f"Asked: {asked}{f' ({answer.asked_way})' if answer.asked_way else ''}"
    if answer.promised:
        yield f"It is promised already ({answer.promised}{f' until {answer.until}' if answer.until else ''})."
    for way in answer.ways:
        yield f"  {way.way}: {_made_up(way, answer.currency)}"
    if answer.costs is not None:
        floor = said(answer.costs.floor_cents, answer.currency)
        shared = f", costs of its log shared by {answer.costs.sharing}" if answer.costs.sharing else ""
        yield f"Our own figure: it has cost {floor}{shared}. {answer.costs.why}".rstrip()
        if answer.costs.asked_below_cents:
            yield f"What is asked lies {said(answer.costs.asked_below_cents, answer.currency)} below what it has cost."


def _made_up(way: PriceWay, currency: str) -> str:
    from waney.cli.money import said

    if way.cents is None or way.rate_cents is None:
        return f"no price: {way.why}"
    factors = "".join(f" x {factor:g} ({what})" for what, factor in way.factors)
    return f"{said(way.cents, currency)} = {way.measure:.2f} x {said(way.rate_cents, currency)} a {way.per}{factors}"


def _sizes(answer: PiecePrice, units: View) -> str:
    from waney.cli.views import shop_of

    shop = shop_of(units)
    known = (("thick", answer.thickness_m), (f"wide ({answer.width_rule})", answer.width_m), ("long", answer.length_m))
    return "".join(f", {shop.have(size)} {what}" for what, size in known if size is not None)
