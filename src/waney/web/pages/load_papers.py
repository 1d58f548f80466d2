"""Papers of a load: hand-over sheet, the same as a file that needs no Waney, load sheet and end-of-load sheet for each owner."""

from __future__ import annotations

from datetime import date

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.hand_over import Handed, HandOver, hand_over_file, hand_over_sheet
from waney.papers.load_sheets import InLoad, LaidAs, LoadOf, end_sheet, load_sheet
from waney.papers.paper import paper_pdf
from waney.trade.kiln_bill import NO_OWNER, KilnBill, OwnerPart
from waney.units.money import print_money
from waney.web.as_sold import core_held, small_photo
from waney.web.asked.kinds import PILE
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.paper import PieceOnPaper
from waney.web.asked.pile import PileAsked, PileDrawn
from waney.web.asking import Job, answer_of, ask
from waney.web.pages.load import Row, bill_of, currency_told, days_in, load_at, rows_of
from waney.web.pages.load_plan import kiln_names
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.acts.kilns import Treated
from waney.yard.acts.settings import Setting
from waney.yard.book.drying_seen import LoadStands
from waney.yard.book.kiln_seen import Back, backs
from waney.yard.book.stories import photos_of
from waney.yard.here import day_here
from waney.yard.problems import NotInBook
from waney.yard.services.treated_told import treated_said

router = Router()
MOST_PHOTOS = 60


@router.get("/loads/{load}/hand-over.pdf")
def hand_over_paper(request: Request, load: str) -> Response:
    """The sheet that goes along. Raises NotInBook."""
    shop = shop_of(request)
    found = load_at(shop.book, load)
    sheet = hand_over_sheet(_handed_over(shop, found), writes(shop.settled()), shop.today())
    return file(paper_pdf(sheet, shop.today()), f"hand-over-{_day(found.in_at)}.pdf", PDF)


@router.get("/loads/{load}/hand-over.html")
def hand_over_page(request: Request, load: str) -> Response:
    """The same as one page with everything in it, to be sent along. Raises NotInBook."""
    shop = shop_of(request)
    found = load_at(shop.book, load)
    content = hand_over_file(_handed_over(shop, found), writes(shop.settled()))
    return file(content.encode("utf-8"), f"hand-over-{_day(found.in_at)}.html", "text/html")


def _day(moment: str) -> date:
    return day_here(moment)


def _handed_over(shop: Shop, found: LoadStands) -> HandOver:
    if not found.whose:
        raise NotInBook("This load is in our own kiln; nobody took it over.")
    settled, rows = shop.settled(), rows_of(shop.book, found)
    pieces = tuple(_handed(shop, row, with_photo=at < MOST_PHOTOS) for at, row in enumerate(rows))
    yard = settled.get(Setting.YARD) or "our yard"
    return HandOver(yard, found.kiln, found.whose, _day(found.in_at), pieces, found.fee, found.words)


def _handed(shop: Shop, row: Row, *, with_photo: bool) -> Handed:
    held, piece = row.held, row.held.piece
    return Handed(
        piece.name, Figures.wood(piece.species), held.owner, piece.thickness_m, piece.length_m, row.before.mass_kg,
        row.before.words, held.cracks, held.stain, held.metal, held.shell_mc, held.core_mc, held.hottest_c, held.heat_treat,
        small_photo(shop.book, next(reversed(photos_of(shop.book, f"piece:{piece.id}")), None)) if with_photo else None,
        piece.sides.said,
    )  # fmt: skip


@router.get("/loads/{load}/sheet.pdf")
def in_paper(request: Request, load: str) -> Response:
    """What goes in, of one owner, and how the load can be laid. Raises NotInBook."""
    shop, found, called = shop_of(request), _of(request, load), "load-sheet.pdf"
    job, laid = _laid(shop, load)
    if job is not None and laid is None and job.goes_on:  # the paper has the drawing when it is there
        return page(request, "paper_waits.html", {"job": job, "called": called})
    made = load_sheet(found, writes(shop.settled()), shop.today(), laid)
    return file(paper_pdf(made, shop.today()), called, PDF)


def _laid(shop: Shop, ident: str) -> tuple[Job | None, LaidAs | None]:
    """How a load can be laid in its kiln, by the kilns sheet; nothing where the sheet does not have that kiln."""
    settled, found = shop.settled(), load_at(shop.book, ident)
    sheet = settled.get(Setting.KILNS, "")
    if found.kiln not in [name for name, _, _ in kiln_names(sheet)]:
        return None, None
    pieces = tuple(map(_on_paper, rows_of(shop.book, found)))
    job = ask(shop, PILE, as_bytes(PileAsked(sheet, found.kiln, pieces, unit_of(settled) == "mm")))
    content = answer_of(shop, job)
    if content is None:
        return job, None
    drawn = read_back(content, PileDrawn)
    return job, LaidAs(drawn.pictures, drawn.says, drawn.left, drawn.sentence)


def _on_paper(row: Row) -> PieceOnPaper:
    piece = row.held.piece
    sizes = (piece.thickness_m, piece.length_m, piece.mean_width_m)
    return PieceOnPaper(piece.name, piece.species, None, *sizes, row.before.mass_kg, weighed=False)


@router.get("/loads/{load}/end.pdf")
def end_paper(request: Request, load: str) -> Response:
    """What came out, of one owner, and what they owe. Raises NotInBook."""
    shop = shop_of(request)
    made = end_sheet(_of(request, load), writes(shop.settled()), shop.today())
    return file(paper_pdf(made, shop.today()), "end-of-load.pdf", PDF)


def _of(request: Request, ident: str) -> LoadOf:
    """A load as the owner in the address sees it."""
    shop, owner = shop_of(request), request.query_params.get("owner", "")
    found, told = load_at(shop.book, ident), backs(shop.book, ident)
    rows = rows_of(shop.book, found)
    mine = [row for row in rows if row.held.owner == owner]
    if not mine:
        raise NotInBook("Nothing in this load belongs to them.")
    bill, currency = _bill(request, found, rows, told)
    part = next((one for one in bill.owners if one.owner == owner), None) if bill else None
    days = [one for row in mine if (one := days_in(row.held, found, told)) is not None]
    back = next((one for one in reversed(told) if one.seq in {row.held.back_seq for row in mine}), None)
    return LoadOf(
        ", ".join(each for each in (found.kiln, found.whose) if each),
        owner or NO_OWNER,
        _day(found.in_at),
        tuple(_in_load(row, part, currency) for row in mine),
        _day(found.out_at) if found.out_at else None,
        round(max(days), 1) if days else None,
        "" if back is None or back.treated is Treated.NOT_KNOWN else treated_said(back),
        core_held(writes(shop.settled()), back),
        _money(bill.total_cents, currency) if bill else "",
        _money(part.cents, currency) if part else "",
        bill.method if bill else "",
        found.words,
    )


def _bill(
    request: Request, found: LoadStands, rows: tuple[Row, ...], told: tuple[Back, ...]
) -> tuple[KilnBill | None, str | None]:
    """The bill where there is one: a sheet is printed without it all the same."""
    try:
        return (bill_of(request, found, rows, told) if found.out else None), currency_told(request, told)
    except Problem:
        return None, None


def _money(cents: int, currency: str | None) -> str:
    return print_money(cents, currency) if currency else f"{cents / 100:.2f}"


def _in_load(row: Row, part: OwnerPart | None, currency: str | None) -> InLoad:
    piece, held, after = row.held.piece, row.held, row.after
    owes = next((one.cents for one in part.pieces if one.piece.name == piece.name), None) if part else None
    return InLoad(
        piece.name, Figures.wood(piece.species), piece.thickness_m, piece.length_m, row.before.mass_kg, row.before.words,
        held.shell_mc, held.core_mc, after.mass_kg if after else None, after.words if after else "", row.ready, held.damage,
        "" if owes is None else _money(owes, currency),
    )  # fmt: skip
