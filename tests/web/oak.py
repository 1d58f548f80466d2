"""An oak log in four flitches and a board without a log, priced: what pages of selling are tested on."""

from __future__ import annotations

from dataclasses import dataclass

from waney.trade.costing import What
from waney.units.money import print_money
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.sales import Spent
from waney.yard.acts.settings import Setting
from waney.yard.book.looking import pieces
from waney.yard.book.selling_seen import prices_asked
from waney.yard.services.earning import Yard, floor_of, price_ways, set_ways
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.selling import price_piece
from waney.yard.services.settings import settle_for_shop

from .conftest import ROOT
from .test_pages import EXAMPLE

EXAMPLES = ROOT / "docs" / "examples"


@dataclass(frozen=True)
class Wood:
    """What the yard has: four flitches of one oak log and a board without a log."""

    log: str
    flitches: tuple[str, ...]
    board: str


def name_of(shop: Shop, piece: str) -> str:
    return next(one.name for one in pieces(shop.book) if one.id == piece)


def wood_of(hand: Hand, shop: Shop) -> Wood:
    """The flitches are 2 in thick and 20, 19.5, 12, 11.7 in wide, asked 400, 380, 200, nothing; 77.31 were spent on the first."""
    for what, name in ((Setting.PRICES, "prices-shelf"), (Setting.TERMS, "terms-custom")):
        settle_for_shop(hand, what, (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    log = add_log(hand, NewLog(EXAMPLE, code="W")).id
    flitches = tuple(shop.new_id() for _ in range(4))
    for n, (ident, inches) in enumerate(zip(flitches, (20.0, 19.5, 12.0, 11.7), strict=True)):
        width = inches * 0.0254
        hand.write(CameOff(ident, "", log, order=n, thickness_m=0.0508, length_m=2.44, widths_m=(width, width)))
    board = shop.new_id()
    hand.write(PieceCounted(board, "black walnut", "", 0.0254, 1.83, (0.2, 0.2)))
    hand.write(Spent(f"piece:{flitches[0]}", What.FLATTENING, 77_31))
    for ident, cents in zip((*flitches[:3], board), (400_00, 380_00, 200_00, 90_00), strict=True):
        price_piece(hand, ident, cents)
    return Wood(log, flitches, board)


def our_own(shop: Shop, wood: Wood) -> list[str]:
    """Every figure of the shop's own about these pieces, as it would be written, unless it is asked as well."""
    there = {one.id: one for one in pieces(shop.book)}
    asked = {cents for cents, _ in prices_asked(shop.book).values()} | {400_00 + 380_00}
    found = {77_31}
    for ident in (*wood.flitches, wood.board):
        found |= {floor_of(Yard.of(shop.book, shop.today(), there[ident].log), there[ident]) or 0}
        found |= {way.cents or 0 for way in price_ways(shop.book, there[ident], shop.today())}
    found |= {way.cents or 0 for way in set_ways(shop.book, [[there[one] for one in wood.flitches[:2]]], shop.today())[0]}
    return [print_money(cents, "USD") for cents in sorted(found - asked - {0})]
