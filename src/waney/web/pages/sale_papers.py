"""Papers of selling: price labels, receipt, packing list with weights; and the pages that are published, as one file."""

from __future__ import annotations

from datetime import date

from starlette.requests import Request
from starlette.responses import Response

from waney.papers.paper import paper_pdf
from waney.papers.receipt import Receipt, Weighs, packing_list, receipt
from waney.papers.words import Shop as Writes
from waney.web.as_sold import Opened, as_sold_piece
from waney.web.asked.kinds import LABELS
from waney.web.asked.paper import LabelAsked, asked_bytes
from waney.web.pages.papers import AT_ONCE, PDF, How, file, made
from waney.web.pages.shelf import asked_for
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of, writes, yard_called
from waney.web.showing import Figures, session_at, shop_of
from waney.web.window import pages_of, zipped
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import SaleStands, sales
from waney.yard.book.stack_seen import ReadOf
from waney.yard.names import read_name
from waney.yard.problems import NotInBook, NotPossible
from waney.yard.services.for_sale import OnSale
from waney.yard.services.moisture_told import meter_of
from waney.yard.services.weights import Weight, weight_of
from waney.yard.services.woods import called_wood

router = Router()
ZIP = "application/zip"


@router.get("/for-sale/labels.pdf")
def labels(request: Request) -> Response:
    """A price label for each piece that fits, on the stock that tags are printed on. Raises BadField, BadStock, BadTag."""
    shop, settled = shop_of(request), shop_of(request).settled()
    some = asked_for(request)
    if not some:
        raise NotPossible("Nothing is asked for any of these pieces; a label needs a price.")
    how = How.of(request.query_params, settled)
    each = tuple(_label(one, writes(settled), currency_of(settled)) for one in some)
    given = asked_bytes(how.labels(each, shop.today()))
    return made(request, LABELS, given, "price-labels.pdf", PDF, at_once=len(each) <= AT_ONCE)


def _label(one: OnSale, write: Writes, currency: str | None) -> LabelAsked:
    piece, name = one.piece, read_name(one.piece.name)
    sizes = (
        None if piece.thickness_m is None else write.read(piece.thickness_m),
        _wide(piece, write),
        None if piece.length_m is None else write.long(piece.length_m),
    )
    words = " × ".join(str(size) for size in sizes if size is not None)
    lines = (called_wood(piece.species) or "wood not known", words, f"{piece.name}, before tax")
    return LabelAsked(name.code, name.number, Figures.money(one.cents, currency), tuple(line for line in lines if line))


def _wide(piece: PieceStands, write: Writes) -> str | None:
    """What there is to use everywhere; where nobody taped that, the widest place. None: neither was taped."""
    if piece.least_width_m is not None:
        return f"{write.have(piece.least_width_m)} at the narrowest"
    return None if piece.most_width_m is None else f"{write.have(piece.most_width_m)} at the widest"


@router.get("/for-sale/window.zip")
def window(request: Request) -> Response:
    """The pieces for sale as plain pages, to publish anywhere. Raises BadField."""
    shop = shop_of(request)
    yard = Opened(shop.book, shop.settled(), shop.today())
    return file(zipped(pages_of(yard, asked_for(request)), yard.today), "for-sale.zip", ZIP)


@router.get("/sales/{sale}/receipt.pdf")
def receipt_paper(request: Request, sale: str) -> Response:
    """What was sold for how much, and what is paid. Raises NotInBook."""
    shop, found = shop_of(request), _sale(shop_of(request), sale)
    settled = shop.settled()
    currency = currency_of(settled)
    money = {part.piece: part for part in found.pieces}
    pieces = tuple(
        as_sold_piece(piece, Figures.money(money[piece.id].cents, currency), came_back=money[piece.id].returned)
        for piece in _pieces(shop, found)
    )
    paid = ", ".join((Figures.money(found.paid_cents, currency), *found.paid_by))
    told = Receipt(
        yard_called(settled), date.fromisoformat(found.on), _called(request, found), pieces,
        tuple((words, Figures.money(cents, currency)) for words, cents in found.taxes),
        Figures.money(found.with_tax_cents, currency), paid,
        Figures.money(found.owed_cents, currency) if found.owed_cents > 0 else "",
        Figures.money(-found.back_cents, currency) if found.back_cents else "",
    )  # fmt: skip
    return file(paper_pdf(receipt(told, writes(settled), shop.today()), shop.today()), "receipt.pdf", PDF)


@router.get("/sales/{sale}/packing.pdf")
def packing(request: Request, sale: str) -> Response:
    """What is loaded and what it weighs. Raises NotInBook."""
    shop, found = shop_of(request), _sale(shop_of(request), sale)
    parts = {part.piece: part for part in found.pieces}
    pieces = [piece for piece in _pieces(shop, found) if not parts[piece.id].returned]
    read, meter = read_since_kiln(shop.book, [piece.id for piece in pieces]), meter_of(shop.book)
    each = [(as_sold_piece(piece), _weighs(weight_of(piece, read.get(piece.id, ReadOf()), meter))) for piece in pieces]
    settled, on = shop.settled(), date.fromisoformat(found.on)
    made = packing_list(yard_called(settled), on, each, writes(settled), shop.today(), _called(request, found))
    return file(paper_pdf(made, shop.today()), "packing-list.pdf", PDF)


def _sale(shop: Shop, ident: str) -> SaleStands:
    found = next(iter(sales(shop.book, sale=ident)), None)
    if found is None:
        raise NotInBook("There is no such sale in the book.")
    return found


def _pieces(shop: Shop, sale: SaleStands) -> tuple[PieceStands, ...]:
    return pieces_by_id(shop.book, [part.piece for part in sale.pieces])


def _called(request: Request, sale: SaleStands) -> str:
    """What to call the buyer, for those who may see it."""
    return sale.called if session_at(request).sees_own else ""


def _weighs(found: Weight | None) -> Weighs | None:
    return None if found is None else Weighs(found.low_kg, found.high_kg, found.weighed_on, found.mc)
