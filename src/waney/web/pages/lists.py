"""Lists: pieces (by the question of their page), logs and sales, as CSV and as a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date

from starlette.requests import Request
from starlette.responses import Response

from waney.logs.likely import likely_wood
from waney.logs.sheet import log_sheet
from waney.papers.listing import Listing
from waney.papers.lists import LogLine, PieceLine, SoldLine, logs_list, pieces_list, sold_list
from waney.web.asked.kinds import LIST
from waney.web.asked.paper import ListAsked, asked_bytes
from waney.web.forms import BadField, own_alone
from waney.web.pages.papers import made
from waney.web.pages.pieces import wanted_of
from waney.web.routes import Router
from waney.web.shop import currency_of, unit_of, writes
from waney.web.showing import Figures, shop_of
from waney.yard.acts.stacks import Depth
from waney.yard.book.book import Book
from waney.yard.book.days import days_of
from waney.yard.book.drying_seen import last_moistures
from waney.yard.book.finding import MOST_ROWS, Wanted, find_pieces
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.logs_seen import LogStands, logs
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import SaleStands, sales
from waney.yard.book.stack_seen import ReadOf

router = Router()
CSV, XLSX = "text/csv; charset=utf-8", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
AT_ONCE = 500
"""so many rows are written in a blink; more are a job"""


def as_files(router: Router, path: str, made_of: Callable[[Request], Listing]) -> None:
    """A list at two addresses: `path`.csv, and `path`.xlsx as a spreadsheet. They raise what `made_of` raises."""

    def as_csv(request: Request) -> Response:
        return listed(request, made_of(request), xlsx=False)

    def as_xlsx(request: Request) -> Response:
        return listed(request, made_of(request), xlsx=True)

    for ending, answers in (("csv", as_csv), ("xlsx", as_xlsx)):
        answers.__module__ = made_of.__module__
        answers.__name__ = f"{path.strip('/').replace('-', '_')}_{ending}"
        router.get(f"{path}.{ending}")(answers)


def listed(request: Request, listing: Listing, *, xlsx: bool) -> Response:
    """A list as CSV or as a spreadsheet; a long one is a job."""
    given = asked_bytes(ListAsked(listing, shop_of(request).today().isoformat(), xlsx))
    called = f"{listing.title.lower().replace(' ', '-')}.{'xlsx' if xlsx else 'csv'}"
    return made(request, LIST, given, called, XLSX if xlsx else CSV, at_once=len(listing.rows) <= AT_ONCE)


def _pieces(request: Request) -> Listing:
    shop = shop_of(request)
    settled = shop.settled()
    wanted, wrong = wanted_of(request, unit_of(settled))
    if wrong:
        raise BadField(" ".join(wrong.values()))
    return pieces_list(list(_every(shop.book, wanted)), writes(settled))


def _every(book: Book, wanted: Wanted) -> Iterator[PieceLine]:
    """So many rows at once, with what was read of them, since a kiln if they were in one."""
    after, more, sawn = "", True, days_of(book)
    while more:
        found = find_pieces(book, wanted, MOST_ROWS, after)
        read = read_since_kiln(book, [piece.id for piece in found.rows])
        for piece in found.rows:
            yield _piece(piece, read.get(piece.id, ReadOf()), sawn.get(piece.day, ""))
        after, more = found.after, bool(found.after)


def _piece(piece: PieceStands, read: ReadOf, sawn: str) -> PieceLine:
    state, mc = piece.ended or "in the yard", {one.depth: one.mc for one in last_moistures(read.moistures)}
    return PieceLine(
        piece.name, Figures.wood(piece.species), piece.log_name, state, piece.thickness_m, piece.least_width_m,
        piece.most_width_m, piece.length_m, piece.volume_m3, read.mass_kg, mc.get(Depth.SHELL), mc.get(Depth.CORE),
        mc.get(Depth.WHOLE), piece.spot_called, date.fromisoformat(sawn) if sawn else None, piece.product,
    )  # fmt: skip


def _logs(request: Request) -> Listing:
    shop = shop_of(request)
    return logs_list([_log(each) for each in logs(shop.book)], writes(shop.settled()))


def _log(log: LogStands) -> LogLine:
    felled = date.fromisoformat(log.felled_on) if log.felled_on else None
    wood, length_m = likely_wood(log.sheet), log_sheet(log.sheet).log.length_m
    butt_m, top_m, volume_m3 = (wood.butt_m, wood.top_m, wood.volume_m3) if wood else (None, None, None)
    told = (log.mass_kg, felled, log.spot_called, log.ended)
    return LogLine(log.name, Figures.wood(log.species), butt_m, top_m, length_m, volume_m3, *told)


def _sales(request: Request) -> Listing:
    own_alone(request, "What was sold, for how much and to whom, is the shop's own; sign in to read it.")
    shop = shop_of(request)
    told = sales(shop.book)
    names = {piece.id: piece.name for piece in pieces_by_id(shop.book, (part.piece for sale in told for part in sale.pieces))}
    rows = [line for sale in told for line in _sold(sale, names)]
    return sold_list(rows, currency_of(shop.settled()) or "")


def _sold(sale: SaleStands, names: Mapping[str, str]) -> Iterator[SoldLine]:
    sums: tuple[int | None, str, int | None] = (sale.paid_cents, ", ".join(sale.paid_by), sale.owed_cents)
    for part in sale.pieces:
        tax = sum(cents for _, cents in sale.taxes_of(part.piece))
        remark = "came back" if part.returned else "it was gone" if part.gone else ""
        name = names.get(part.piece, "taken back in the book")
        yield SoldLine(date.fromisoformat(sale.on), name, sale.called, part.cents, tax, *sums, remark)
        sums = (None, "", None)


as_files(router, "/pieces", _pieces)
as_files(router, "/logs", _logs)
as_files(router, "/sales", _sales)
