"""A market day as a page takes it along: what may be sold for certain, what may only be asked for, prices, taxes, who buys."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta

from waney.figures.json_out import Encoder
from waney.figures.typed_json import Json
from waney.papers.cautions import cautions
from waney.papers.words import Shop as Writes
from waney.trade.tax import On, Tax, TaxLine
from waney.units.money import print_money
from waney.web.access.members import Member
from waney.web.away import words_of
from waney.web.names_along import Run, runs
from waney.web.shop import Shop, currency_of, writes, yard_called
from waney.yard.acts.sales import PaidBy
from waney.yard.book.around import buyers
from waney.yard.book.counting_seen import count_pieces
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.looking import PieceStands, names_there, pieces_by_id
from waney.yard.book.selling_seen import LeaseStands, Promised, prices_asked, promises
from waney.yard.services.market import MarketDay
from waney.yard.services.settings import shop_taxes

FORMAT = "waney-market/1"
HOLD_DAYS = 7
"""a hold that is asked for, unless another day is chosen"""
MOST_OTHERS = 500
"""pieces that are not along and that a page knows all of; of more it knows the names. 100 kB on a phone"""


@dataclass(frozen=True)
class Offered:
    """A piece as a buyer may see it: nothing of what it has cost. asked_cents: None where nothing is asked.

    promised: why it can only be asked for, or not even that; empty where it is free.
    """

    piece: str
    name: str
    words: str
    asked_cents: int | None
    promised: str


@dataclass(frozen=True)
class TaxRule:
    """A tax line, its rate as a fraction so that page and server round the same number."""

    words: str
    over: int
    under: int
    each_line: bool
    rounding: str


@dataclass(frozen=True)
class SoldLine:
    """A piece that the book has as sold on this lease. gone: it was not there to be sold."""

    sale: str
    piece: str
    cents: int
    gone: bool
    returned: bool


@dataclass(frozen=True)
class Request:
    """What became of a hold that this device asked for; refused: a sentence, empty where it was granted."""

    hold: str
    refused: str


@dataclass(frozen=True)
class Rest:
    """What is not along. others: those that are most likely asked for; names: of all the others."""

    others: tuple[Offered, ...]
    names: tuple[Run, ...]


@dataclass(frozen=True)
class Market:
    """What the page holds. money: how an amount is written, `{}` in the place of the figure; along: on the lease; others, names:
    the rest of the yard, unless it is asked for elsewhere (more: where); where: words."""

    format: str
    today: str
    device: str
    person: str
    yard: str
    lease: str
    closed: bool
    until: str
    where: str
    money: str
    taxes: tuple[TaxRule, ...]
    ways: tuple[str, ...]
    buyers: tuple[tuple[str, str], ...]
    hold_until: str
    more: str
    along: tuple[Offered, ...]
    others: tuple[Offered, ...]
    names: tuple[Run, ...]
    sold: tuple[SoldLine, ...]
    requests: tuple[Request, ...]
    mind: tuple[str, ...]
    """what stands on a receipt"""


def market_of(shop: Shop, member: Member | None, device: str, told: MarketDay) -> Market:
    """All of it, as it stands now; of a large yard what is not along is told apart."""
    holds = news_of(shop, member, device, told)
    if holds.more:
        return holds
    rest = rest_of(shop, told.lease)
    return replace(holds, others=rest.others, names=rest.names)


def rest_of(shop: Shop, lease: LeaseStands) -> Rest:
    """What is not along, as it stands now."""
    stays = customers_pieces(shop.book) | set(lease.pieces())
    others = [named for named in names_there(shop.book) if named[2] not in stays]
    prices, taken = prices_asked(shop.book), promises(shop.book, shop.today().isoformat())
    others.sort(key=lambda other: other[2] not in prices)
    known, write = pieces_by_id(shop.book, (piece for *_, piece in others[:MOST_OTHERS])), writes(shop.settled())
    told = tuple(_offered(piece, write, prices, _promised(taken.get(piece.id))) for piece in known)
    return Rest(told, runs(others[MOST_OTHERS:]))


def _offered(piece: PieceStands, write: Writes, prices: Mapping[str, tuple[int, str]], promised: str = "") -> Offered:
    return Offered(piece.id, piece.name, words_of(piece, write), prices.get(piece.id, (None, ""))[0], promised)


def news_of(shop: Shop, member: Member | None, device: str, told: MarketDay) -> Market:
    """How things stand now, for a page that has the rest already: without anything of pieces that are not along."""
    settled, today, lease = shop.settled(), shop.today(), told.lease
    write = writes(settled)
    ours = set(lease.pieces())
    along = [piece for piece in told.pieces.values() if piece.id in ours]
    prices = prices_asked(shop.book, lease.pieces())
    return Market(
        FORMAT,
        today.isoformat(),
        device,
        member.person if member else "",
        yard_called(settled),
        lease.id,
        lease.closed,
        lease.until,
        lease.words,
        money_words(currency_of(settled)),
        tuple(map(tax_rule, shop_taxes(settled))),
        tuple(PaidBy),
        tuple((one.id, one.called) for one in buyers(shop.book)),
        (today + timedelta(days=HOLD_DAYS)).isoformat(),
        f"/api/market/{lease.id}/others" if count_pieces(shop.book) > MOST_OTHERS else "",
        tuple(_offered(piece, write, prices) for piece in along),
        (),
        (),
        tuple(SoldLine(s.id, p.piece, p.cents, p.gone, p.returned) for s in told.sold for p in s.pieces),
        tuple(Request(one.hold.id, one.refused) for one in told.asked),
        tuple(caution.sentence for caution in cautions("sale")),
    )


def _promised(promised: Promised | None) -> str:
    if promised is None or not promised.stands:
        return ""
    return "held for somebody" if promised.kind == "hold" else "taken along by somebody else"


def money_words(currency: str | None) -> str:
    """How an amount is written in a currency, `{}` in the place of the figure: `${}`, `{} CHF`."""
    return print_money(0, currency).replace("0.00", "{}") if currency else "{}"


def tax_rule(tax: Tax) -> TaxRule:
    """As the page works it out; a test holds the two against each other."""
    words = TaxLine(tax, 0, 0).words
    return TaxRule(words, tax.rate.numerator, tax.rate.denominator, tax.on is On.LINE, str(tax.rounding))


def as_json(told: Market | Rest) -> Json:
    """For the page."""
    return Encoder().encode(told, type(told))
