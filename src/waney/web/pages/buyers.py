"""Buyers: what somebody bought and what else of those logs is left, what is kept for them, their wishes; and forgetting them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.forms import Sent
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.book.around import PersonStands, buyers
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import HoldStands, PieceSold, SaleStands, holds, sales, wishes
from waney.yard.problems import NotInBook
from waney.yard.services.deposits import Deposit, deposits
from waney.yard.services.for_sale import left_of_logs
from waney.yard.services.pieces import forget_person
from waney.yard.services.quotes import quoted
from waney.yard.services.selling import wishes_met

router = Router()


@dataclass(frozen=True)
class Bought:
    """A piece that somebody bought, and what else of its log is left; piece None: it was taken back in the book."""

    part: PieceSold
    piece: PieceStands | None
    left: tuple[PieceStands, ...]


@router.get("/buyers")
def of_all(request: Request) -> Response:
    """Everybody who buys here, the last one first; nobody while a buyer looks on."""
    book, seen = shop_of(request).book, session_at(request).sees_own
    bought: dict[str, int] = {}
    for sale in sales(book) if seen else ():
        bought[sale.person] = bought.get(sale.person, 0) + sum(not part.returned for part in sale.pieces)
    return page(request, "buyers.html", {"buyers": buyers(book)[::-1] if seen else (), "bought": bought})


@router.get("/buyers/{buyer}")
def of_one(request: Request, buyer: str) -> Response:
    """One of them. Raises NotInBook."""
    shop, seen = shop_of(request), session_at(request).sees_own
    found = _buyer(shop, buyer)
    today = shop.today().isoformat()
    own: dict[str, object] = {"called": "", "sales": (), "holds": (), "deposits": (), "wishes": (), "quotes": ()}
    if seen:
        theirs = tuple(wish for wish in wishes(shop.book, today) if wish.person == buyer)
        met = {one.wish.id: one.pieces for one in wishes_met(shop.book, today)} if theirs else {}
        own = {
            "called": found.called,
            "sales": _sales(shop, sales(shop.book, person=buyer), today),
            "holds": _holds(shop, buyer, today),
            "deposits": _deposits(shop, buyer, today),
            "quotes": quoted(shop.book, today, person=buyer),
            "wishes": [(wish, met.get(wish.id, ())) for wish in theirs],
        }
    return page(request, "buyer.html", {"buyer": buyer, "currency": currency_of(shop.settled()), **own})


def _buyer(shop: Shop, ident: str) -> PersonStands:
    """Raises NotInBook, for somebody who was forgotten too."""
    found = next((one for one in buyers(shop.book) if one.id == ident), None)
    if found is None:
        raise NotInBook("There is no such buyer in the book; whoever was forgotten has no page.")
    return found


def _sales(shop: Shop, some: Sequence[SaleStands], today: str) -> list[tuple[SaleStands, list[Bought]]]:
    """The newest first."""
    pieces = {one.id: one for one in pieces_by_id(shop.book, [part.piece for sale in some for part in sale.pieces])}
    left = left_of_logs(shop.book, {one.log for one in pieces.values() if one.log}, today)
    return [(sale, [_bought(part, pieces.get(part.piece), left) for part in sale.pieces]) for sale in reversed(some)]


def _bought(part: PieceSold, piece: PieceStands | None, left: Mapping[str, Sequence[PieceStands]]) -> Bought:
    return Bought(part, piece, () if piece is None else tuple(left.get(piece.log, ())))


def _holds(shop: Shop, buyer: str, today: str) -> list[tuple[HoldStands, tuple[PieceStands, ...]]]:
    """Those that stand today."""
    stand = [one for one in holds(shop.book) if one.person == buyer and not one.ended and not one.lost_to and one.until >= today]
    return [(one, pieces_by_id(shop.book, one.pieces)) for one in stand]


def _deposits(shop: Shop, buyer: str, today: str) -> list[tuple[Deposit, tuple[PieceStands, ...]]]:
    """Those of holds that are over, to be given back or kept."""
    return [(one, pieces_by_id(shop.book, one.hold.pieces)) for one in deposits(shop.book, today, buyer) if one.over]


@router.post("/buyers/{buyer}")
def forget(buyer: str, sent: Sent) -> Response:
    """Their name goes out of the book; what they bought stays, under a number. Raises NotAllowed, NotInBook, BookBusy."""
    sent.decides()
    _buyer(shop_of(sent.request), buyer)
    forget_person(sent.hand, buyer)
    return RedirectResponse("/buyers", 303)
