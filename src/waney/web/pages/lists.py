"""Lists: pieces (by the question of their page) and logs, as CSV and as a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from starlette.requests import Request
from starlette.responses import Response

from waney.logs.sheet import log_sheet
from waney.papers.listing import Listing
from waney.papers.lists import LogLine, PieceLine, logs_list, pieces_list
from waney.web.asked.paper import LIST, ListAsked, asked_bytes
from waney.web.forms import BadField
from waney.web.pages.papers import made
from waney.web.pages.pieces import wanted_of
from waney.web.routes import Router
from waney.web.shop import unit_of, writes
from waney.web.showing import Figures, shop_of
from waney.yard.book.book import Book
from waney.yard.book.finding import MOST_ROWS, Wanted, find_pieces
from waney.yard.book.looking import LogStands, PieceStands, logs

router = Router()
CSV, XLSX = "text/csv; charset=utf-8", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
AT_ONCE = 500
"""so many rows are written in a blink; more are a job"""


@router.get("/pieces.csv")
def pieces_csv(request: Request) -> Response:
    """The pieces that fit the question. Raises BadField."""
    return listed(request, _pieces(request), xlsx=False)


@router.get("/pieces.xlsx")
def pieces_xlsx(request: Request) -> Response:
    """The same as a spreadsheet. Raises BadField."""
    return listed(request, _pieces(request), xlsx=True)


@router.get("/logs.csv")
def logs_csv(request: Request) -> Response:
    """Every log."""
    return listed(request, _logs(request), xlsx=False)


@router.get("/logs.xlsx")
def logs_xlsx(request: Request) -> Response:
    """The same as a spreadsheet."""
    return listed(request, _logs(request), xlsx=True)


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
    return pieces_list([_piece(each) for each in _every(shop.book, wanted)], writes(settled))


def _every(book: Book, wanted: Wanted) -> Iterator[PieceStands]:
    after, more = "", True
    while more:
        found = find_pieces(book, wanted, MOST_ROWS, after)
        yield from found.rows
        after, more = found.after, bool(found.after)


def _piece(piece: PieceStands) -> PieceLine:
    """Which of its widths is the butt's nobody told: those columns stay empty."""
    state = piece.ended or "in the yard"
    return PieceLine(
        piece.name, Figures.wood(piece.species), piece.log_name, state, piece.thickness_m, length_m=piece.length_m,
        mass_kg=piece.mass_kg, spot=piece.spot_called, remark=piece.product,
    )  # fmt: skip


def _logs(request: Request) -> Listing:
    shop = shop_of(request)
    return logs_list([_log(each) for each in logs(shop.book)], writes(shop.settled()))


def _log(log: LogStands) -> LogLine:
    felled = date.fromisoformat(log.felled_on) if log.felled_on else None
    return LogLine(
        log.name, Figures.wood(log.species), length_m=log_sheet(log.sheet).log.length_m, mass_kg=log.mass_kg, felled=felled,
        spot=log.spot_called, remark=log.ended,
    )  # fmt: skip
