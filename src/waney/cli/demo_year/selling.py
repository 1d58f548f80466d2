"""What was sold: buyers, prices, a quote, holds, a market day, a return, wishes, a stock count; and what went into the wood."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial

from waney.cli.demo_year.yard import Yard
from waney.trade.costing import What
from waney.yard.acts.promises import HoldAsked, PricedPiece
from waney.yard.acts.sales import PaidBy, Returned, SoldAway, Spent
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.looking import PieceStands
from waney.yard.services.counting import begin_count, end_count, see_tag
from waney.yard.services.deposits import end_hold
from waney.yard.services.quotes import end_quote, quote_pieces
from waney.yard.services.selling import (
    add_buyer,
    come_home,
    end_wish,
    free_pieces,
    hold_pieces,
    leave_wish,
    new_sale,
    pay,
    price_piece,
    sell_pieces,
    take_along,
    take_pieces_back,
)
from waney.yard.services.spending import note_spent

BUYERS = ("Nell", "Abe", "Cora")
FROM = ("AA", "AB", "AC")
"""the logs whose wood is sold; all long dry"""
SPENT = ((What.HAUL, 45_00, None), (What.HOURS, None, 3.5))
PRICES = (140_00, 165_00, 180_00, 120_00)
MARKET = "market in Alder Hollow"


@dataclass
class Stall:
    """Who buys, and what was promised, by what the chapter calls it."""

    buyers: dict[str, str] = field(default_factory=dict)
    kept: dict[str, str] = field(default_factory=dict)


def enter(yard: Yard) -> None:
    """Put it on the agenda."""
    diary, stall = yard.diary, Stall()
    for ago, hour, do in (
        (30, 18, _spent),
        (29, 9, _priced),
        (28, 10, _asked),
        (26, 11, _held),
        (24, 12, _sold),
        (21, 7, _market),
        (14, 15, _back),
        (10, 9, _wishes),
        (6, 16, _counted),
    ):
        diary.on(ago, hour, partial(do, yard, stall, ago))


def _free(yard: Yard, ago: int) -> list[PieceStands]:
    """Single pieces of the chapter's logs that nobody is promised."""
    logs = {yard.logs[code] for code in FROM}
    return [piece for piece in free_pieces(yard.diary.book, yard.diary.day(ago)) if piece.log in logs and not piece.together]


def _spent(yard: Yard, _stall: Stall, ago: int) -> None:
    for what, cents, hours in SPENT:
        note_spent(yard.ida, Spent(f"log:{yard.logs[FROM[0]]}", what, cents, hours))
    for piece in _free(yard, ago)[:2]:
        note_spent(yard.tom, Spent(f"piece:{piece.id}", What.FLATTENING, 25_00))


def _priced(yard: Yard, _stall: Stall, ago: int) -> None:
    for piece, cents in zip(_free(yard, ago), PRICES, strict=False):
        price_piece(yard.ida, piece.id, cents, "by volume")


def _asked(yard: Yard, stall: Stall, ago: int) -> None:
    for called in BUYERS:
        stall.buyers[called] = add_buyer(yard.ida, called).id
    first, second, *_ = _free(yard, ago)
    until = yard.diary.day(ago - 42)
    quote_pieces(yard.ida, stall.buyers["Nell"], [PricedPiece(first.id, PRICES[0])], until, goes_to="Canada")
    dropped = quote_pieces(yard.ida, stall.buyers["Cora"], [PricedPiece(second.id, PRICES[1])], yard.diary.day(ago - 14)).id
    end_quote(yard.ida, dropped, yard.diary.day(ago), "too narrow for her")
    asked = HoldAsked(yard.diary.new_id(), stall.buyers["Cora"], (second.id,), yard.diary.day(ago - 7))
    yard.tom.write(asked)
    stall.kept["asked"] = asked.hold


def _held(yard: Yard, stall: Stall, ago: int) -> None:
    end_hold(yard.ida, stall.kept["asked"])
    piece, other, *_ = _free(yard, ago)
    dropped = hold_pieces(yard.ida, stall.buyers["Cora"], [other.id], yard.diary.day(ago - 7), 20_00).id
    end_hold(yard.ida, dropped, returned_cents=15_00, keeps_rest=True)
    stall.kept["piece"] = piece.id
    stall.kept["hold"] = hold_pieces(yard.ida, stall.buyers["Abe"], [piece.id], yard.diary.day(ago - 7), 40_00).id


def _sold(yard: Yard, stall: Stall, ago: int) -> None:
    """The hold is settled, part of it owed until the day after."""
    parts = [PricedPiece(stall.kept["piece"], PRICES[0])]
    sale = new_sale(yard.ida, parts, yard.diary.day(ago), stall.buyers["Abe"], [("sales tax", 8_40)], PaidBy.OWED)
    sell_pieces(yard.ida, replace(sale, hold=stall.kept["hold"], goes_to="WI"))
    pay(yard.ida, f"sale:{sale.sale}", PRICES[0] + 8_40 - 40_00, PaidBy.CHECK)
    stall.kept["sale"] = sale.sale


def _market(yard: Yard, _stall: Stall, ago: int) -> None:
    """Three pieces go along, one is sold there, two come home."""
    some = [piece.id for piece in _free(yard, ago)[:3]]
    today = yard.diary.day(ago)
    lease = take_along(yard.tom, some, today, MARKET).id
    yard.tom.write(SoldAway(yard.diary.new_id(), (PricedPiece(some[0], 150_00),), today, paid_cents=150_00, lease=lease))
    come_home(yard.tom, lease, some[1:])


def _back(yard: Yard, stall: Stall, ago: int) -> None:
    del ago
    words = "a check opened in a warm room"
    take_pieces_back(yard.ida, Returned(stall.kept["sale"], (stall.kept["piece"],), 120_00, yard.spots["shop"], words))


def _wishes(yard: Yard, stall: Stall, ago: int) -> None:
    until = yard.diary.day(ago - 180)
    met = WishLeft(yard.diary.new_id(), stall.buyers["Nell"], until, "walnut_black", 0.04, None, 0.3, 1.8)
    leave_wish(yard.ruth, met)
    leave_wish(yard.ruth, WishLeft(yard.diary.new_id(), stall.buyers["Cora"], until, "cherry_black", 0.02, 0.04, 0.2, 1.2))
    end_wish(yard.ruth, met.wish)


def _counted(yard: Yard, _stall: Stall, ago: int) -> None:
    """One spot, by the tags of its pieces; the last one nobody finds."""
    standing = [piece for piece in free_pieces(yard.diary.book, yard.diary.day(ago)) if piece.spot]
    spot = standing[0].spot
    count = begin_count(yard.ruth, spot)
    for piece in [piece for piece in standing if piece.spot == spot][:-1]:
        see_tag(yard.ruth, count, piece.name)
    end_count(yard.ruth, count)
