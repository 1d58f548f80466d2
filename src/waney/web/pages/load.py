"""One load: what went in, where it stands, what came of it, who owes what."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.drying.meter_sheet import MeterSheet
from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.trade.kiln_bill import NO_OWNER, KilnBill, PieceInKiln, Split, kiln_bill
from waney.units.money import parse_money
from waney.web.access.members import Role
from waney.web.as_sold import core_held
from waney.web.forms import BadField, Sent
from waney.web.loads_asked import Read, in_words
from waney.web.pages import readings
from waney.web.routes import Router
from waney.web.shop import currency_of, degree_of, unit_of, writes
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.kilns import Treated
from waney.yard.acts.stacks import ReadBy
from waney.yard.book.around import spots
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import LoadStands, loads
from waney.yard.book.kiln_seen import Back, PieceInLoad, backs, pieces_in, read_since_kiln
from waney.yard.book.spent_seen import kiln_shares
from waney.yard.book.stack_seen import ReadOf, read_of
from waney.yard.problems import NotInBook, NotPossible
from waney.yard.services.moisture_told import meter_of
from waney.yard.services.ready import ready_by
from waney.yard.services.spending import share_kiln, take_kiln_back
from waney.yard.services.treated_told import treated_said

router = Router()
DAY_S = 86_400.0


@dataclass(frozen=True)
class Row:
    """A piece of a load: as it stands, what was read before it went in (since an earlier kiln, if it was in one), and since it
    came back; whether ready, in words."""

    held: PieceInLoad
    before: Read
    after: Read | None
    ready: str


def load_at(book: Book, ident: str) -> LoadStands:
    """The load of an address. Raises NotInBook."""
    found = next((one for one in loads(book) if one.id == ident), None)
    if found is None:
        raise NotInBook("There is no such load in the book.")
    return found


def rows_of(book: Book, load: LoadStands) -> tuple[Row, ...]:
    """Its pieces by name."""
    there = pieces_in(book, load.id)
    idents, meter = [held.piece.id for held in there], meter_of(book)
    told, before = read_of(book, idents), read_since_kiln(book, idents, load.seq)
    given = ((held, in_words(before.get(held.piece.id, ReadOf())), told.get(held.piece.id, ReadOf())) for held in there)
    return tuple(_row(load, *each, meter) for each in given)


def _row(load: LoadStands, held: PieceInLoad, before: Read, told: ReadOf, meter: MeterSheet) -> Row:
    back = held.back_seq or (None if load.whose else load.out_seq)
    if back is None:
        return Row(held, before, None, "")
    wanted = held.shell_mc is not None or held.core_mc is not None
    ready = ready_by(held, told, meter).sentence if wanted else ""
    return Row(held, before, in_words(told.between(after=back)), ready)


@router.get("/loads/{load}")
def load(request: Request, load: str) -> Response:
    """All that is known of it. Raises NotInBook."""
    return load_page(request, load, {}, {}, None)


def load_page(
    request: Request, ident: str, typed: Mapping[str, str], wrong: Mapping[str, str], chosen: set[str] | None
) -> Response:
    """The page, with what could not be done. chosen: pieces that were ticked; None: all. Raises NotInBook."""
    shop = shop_of(request)
    found = load_at(shop.book, ident)
    rows, told = rows_of(shop.book, found), backs(shop.book, ident)
    away = [] if found.out and not found.whose else [row.held for row in rows if row.held.back_seq is None]
    shown = {
        "load": found,
        "rows": rows,
        "away": away,
        "backs": told,
        "said": {one.seq: treated_said(one) for one in told},
        "core": {one.seq: core_held(writes(shop.settled()), one) for one in told},
        "owners": sorted({row.held.owner for row in rows}),
        "ours": NO_OWNER,
        "spots": spots(shop.book),
        "read_how": list(ReadBy),
        "treated": list(Treated),
        "degrees": f"°{degree_of(unit_of(shop.settled()))}",
        "typed": typed,
        "wrong": wrong,
        "chosen": ({held.piece.id for held in away} if found.whose else set()) if chosen is None else chosen,
        "cautions": [one.sentence for one in cautions("kiln")],
        **_bill(request, found, rows, told),
        **readings.shown(shop.book, f"load:{ident}"),
    }
    return page(request, "load.html", shown, status=422 if wrong else 200)


def _bill(request: Request, found: LoadStands, rows: Sequence[Row], told: Sequence[Back]) -> dict[str, object]:
    """The bill that was asked for in the address, or the fees that were told; with what stands against it."""
    asked, session = request.query_params, session_at(request)
    shown: dict[str, object] = {"bill": None, "bill_wrong": "", "asked": asked, "currency": currency_told(request, told)}
    shares = kiln_shares(shop_of(request).book, found.id)
    shown |= {
        "cost": _fees(told),
        "decides": session.sees_own and session.member is not None and session.member.role is Role.OWNER,
        "shares": shares,
        "shares_cents": sum(each.cents or 0 for each in shares),
    }
    if not found.out or not (asked.get("cost") or shown["cost"]):
        return shown
    try:
        return {**shown, "bill": bill_of(request, found, rows, told)}
    except Problem as slip:
        return {**shown, "bill_wrong": str(slip)}


@router.post("/loads/{load}/share")
def write_share(load: str, sent: Sent) -> Response:
    """What the shop's own pieces pay goes into their costs, or is taken back. Raises NotInBook, NotAllowed."""
    sent.decides()
    request = sent.request
    found = load_at(shop_of(request).book, load)
    try:
        if sent.text("do") == "back":
            take_kiln_back(sent.hand, load)
        else:
            share_kiln(sent.hand, load, _own_share(sent, found))
    except Problem as refused:
        return load_page(request, load, {}, {"share": str(refused)}, None)
    return RedirectResponse(f"/loads/{load}?{request.url.query}#bill", 303)


def _own_share(sent: Sent, found: LoadStands) -> dict[str, int]:
    """By the ids of the shop's own pieces [cents], as the bill in the address has it. Raises as `bill_of`, NotPossible."""
    book = shop_of(sent.request).book
    rows = rows_of(book, found)
    bill = bill_of(sent.request, found, rows, backs(book, found.id))
    if not found.out or str(bill.of("")) != sent.text("cents"):
        raise NotPossible("What the shop pays is not what it was when this page was made; look at the bill again.")
    idents = {row.held.piece.name: row.held.piece.id for row in rows}
    return {idents[part.piece.name]: part.cents for owner in bill.owners if not owner.owner for part in owner.pieces}


def currency_told(request: Request, told: Sequence[Back]) -> str | None:
    """The shop's currency, else the one that a fee was told in."""
    return currency_of(shop_of(request).settled()) or next((one.currency for one in told if one.currency), None)


def _fees(told: Sequence[Back]) -> str:
    """All fees that were told, together, as they are typed; empty for none."""
    cents = [one.fee_cents for one in told if one.fee_cents is not None]
    return f"{sum(cents) / 100:.2f}" if cents else ""


def bill_of(request: Request, found: LoadStands, rows: Sequence[Row], told: Sequence[Back]) -> KilnBill:
    """The cost of a load parted among owners. Raises BadKilnBill, Unreadable and its kinds, BadField."""
    asked = request.query_params
    cost = parse_money(asked.get("cost") or _fees(told), currency_told(request, told))
    typed = asked.get("thicker", "").strip().removesuffix("%").strip() or "0"
    if not typed.replace(".", "", 1).isdecimal():
        raise BadField(f'"{typed[:30]}" is no share; write per cent, for instance 10.')
    unsized = [row.held.piece.name for row in rows if not _volume(row)]
    if unsized:
        raise BadField(f"Not known how large: {', '.join(unsized)}. Measure thickness, length and width, then it can be billed.")
    pieces = [_in_kiln(row, found, told) for row in rows]
    return kiln_bill(pieces, cost.cents, Split(days=asked.get("by_days", "yes") == "yes", thicker=float(typed) / 100.0))


def _volume(row: Row) -> float:
    one = row.held.piece
    return (one.length_m or 0.0) * (one.thickness_m or 0.0) * (one.mean_width_m or 0.0)


def _in_kiln(row: Row, found: LoadStands, told: Sequence[Back]) -> PieceInKiln:
    days = days_in(row.held, found, told)
    return PieceInKiln(row.held.piece.name, row.held.owner, _volume(row), row.held.piece.thickness_m or 0.0, days or 0.0)


def days_in(held: PieceInLoad, found: LoadStands, told: Sequence[Back]) -> float | None:
    """Days of a piece in a kiln: as told when it came back, else from the day it went to the day it was back or out."""
    back = next((one for one in told if one.seq == held.back_seq), None)
    if back is not None and back.days is not None:
        return back.days
    until = back.happened_at if back is not None else found.out_at
    if not until:
        return None
    return max((datetime.fromisoformat(until) - datetime.fromisoformat(found.in_at)).total_seconds() / DAY_S, 0.0)
