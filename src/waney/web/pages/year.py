"""The year by log, wood, hour of work and area of shed; what one log earned beside its plan; the shop's own record.

All of it is the shop's own: whoever is not signed in reads none of it, nor does a buyer who looks on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.listing import csv_text
from waney.papers.paper import paper_pdf
from waney.papers.spreadsheet import spreadsheet
from waney.trade.earned import Earned, by_species, summed
from waney.web import reckoned
from waney.web.access.members import Role
from waney.web.forms import BadField, Fields, Sent, own_alone
from waney.web.own_record import RecordRow, money_in, record_rows
from waney.web.pages.lists import CSV, XLSX
from waney.web.pages.log import log_at
from waney.web.pages.papers import PDF, file
from waney.web.reckoned import Answer
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of, writes
from waney.web.showing import page, session_at, shop_of
from waney.web.spending import INTO_A_LOG, spent_shown, spent_typed
from waney.yard.acts.settings import Setting
from waney.yard.book.custom_seen import custom_of_log
from waney.yard.book.looking import last_event
from waney.yard.problems import NotPossible
from waney.yard.services.sawing_hours import sawing_hours

if TYPE_CHECKING:
    from waney.papers.listing import Listing
    from waney.trade.costing import Costed

router = Router()
EARLIEST = 1900


@dataclass(frozen=True)
class Year:
    """What is shown. of: None for all of the book; names: ids of logs by name."""

    of: int | None
    logs: tuple[Earned, ...]
    woods: tuple[Earned, ...]
    whole: tuple[Earned, ...]
    untold: int
    names: dict[str, str]
    record: tuple[RecordRow, ...]
    losses: tuple[RecordRow, ...]

    @property
    def not_as_settled(self) -> tuple[str, ...]:
        """Logs whose costs are not shared as the shop settled it, and why."""
        from waney.papers.year import not_as_settled

        return tuple(not_as_settled(self.logs))

    @property
    def called(self) -> str:
        """The year, in words."""
        return "All of the book" if self.of is None else str(self.of)


def _of(request: Request) -> int | None:
    """The year that is asked for, None for all of the book. Raises BadField."""
    text = request.query_params.get("of", "").strip()
    if text and not (text.isdecimal() and EARLIEST <= int(text[:5]) <= 9999):
        raise BadField(f'"{text[:20]}" is no year; write for instance {shop_of(request).today().year}.')
    return int(text) if text else None


def _asked(request: Request, patience_s: float | None = None) -> Answer[Year]:
    """The sums of all logs, worked out beside the pages: of many logs they take seconds. Raises BadField, SheetProblems."""
    shop, of = shop_of(request), _of(request)
    stands = (last_event(shop.book), shop.today())
    return shop.reckoned.ask(("year", of), stands, lambda: _year(shop, of), patience_s)


def _whole(request: Request) -> Year:
    """As it stands, however long that takes. Raises BadField, SheetProblems."""
    found = _asked(request).found
    assert found is not None
    return found


def _year(shop: Shop, of: int | None) -> Year:
    from waney.papers.year import counts
    from waney.yard.services.earning import Yard, sawn_for_others, year_of_logs

    yard = Yard.of(shop.book, shop.today())
    rows = year_of_logs(yard, of)
    told = tuple(row for row in rows if counts(row))
    others = sawn_for_others(yard, of)
    whole = (*([summed("all logs", rows)] if rows else []), *([others] if others is not None else []))
    woods = tuple(row for row in by_species(rows) if counts(row))
    return Year(of, told, woods, whole, len(rows) - len(told), {log.name: log.id for log in yard.logs}, *record_rows(shop))


@router.get("/year")
def year(request: Request) -> Response:
    """The page; ?of=2026 for one year. Raises BadField."""
    from waney.papers.year import shed_rate, shed_unit

    shop = shop_of(request)
    if not session_at(request).sees_own:
        return page(request, "year.html", {"own": False})
    write, currency = writes(shop.settled()), currency_of(shop.settled())
    answer = _asked(request, reckoned.PATIENCE_S)
    shown = {
        "own": True,
        "of": _of(request),
        "found": answer.found,
        "of_now": answer.of_now,
        "money": money_in(currency),
        "rate": lambda row: shed_rate(row, write),
        "area": shed_unit(write).one,
        "wants": bool(shop.settled().get(Setting.WANTS)),
        "decides": _decides(request),
        "years": range(shop.today().year, shop.today().year - 5, -1),
    }
    return page(request, "year.html", shown)


def _decides(request: Request) -> bool:
    member = session_at(request).member
    return member is not None and member.role is Role.OWNER


@router.post("/year/losses")
def count_losses(sent: Sent) -> Response:
    """Plans count what this shop loses in drying: an owner writes it into the wants sheet.

    Raises NotAllowed, NotPossible, CannotAdd.
    """
    from waney.yard.services.record import write_losses

    _own(sent.request)
    sent.decides()
    write_losses(sent.hand)
    return RedirectResponse("/year#record", 303)


def _own(request: Request) -> None:
    """Raises NotSignedIn, NotPossible."""
    own_alone(request, "What the shop earns is its own; sign in to read it.")


def _listing(request: Request) -> Listing:
    from waney.papers.year import year_list

    _own(request)
    shop, found = shop_of(request), _whole(request)
    rows = (*found.logs, *found.whole)
    return year_list(rows, writes(shop.settled()), currency_of(shop.settled()) or "", f"Year {found.called}")


@router.get("/year.csv")
def year_csv(request: Request) -> Response:
    """Log by log, then all together. Raises NotSignedIn, BadField."""
    return file(csv_text(_listing(request)).encode("utf-8-sig"), "year.csv", CSV)


@router.get("/year.xlsx")
def year_xlsx(request: Request) -> Response:
    """The same as a spreadsheet. Raises NotSignedIn, BadField."""
    return file(spreadsheet(_listing(request), shop_of(request).today()), "year.xlsx", XLSX)


@router.get("/year.pdf")
def year_pdf(request: Request) -> Response:
    """The same on paper. Raises NotSignedIn, BadField."""
    from waney.papers.year import year_paper

    _own(request)
    shop, found = shop_of(request), _whole(request)
    money = money_in(currency_of(shop.settled()))
    made = year_paper(found.called, found.logs, found.woods, found.whole, money, writes(shop.settled()), shop.today())
    return file(paper_pdf(made, shop.today()), "year.pdf", PDF)


@router.get("/logs/{log}/earned")
def log_earned(request: Request, log: str) -> Response:
    """What one log really earned beside its plan, and how its cost is borne. Raises NotInBook."""
    return _log_shown(request, log, {}, {})


def _log_shown(request: Request, log: str, wrong: dict[str, str], typed: dict[str, str]) -> Response:
    stands, shop = log_at(request, log), shop_of(request)
    own = _of_log(shop, stands.id, shop.today()) if session_at(request).sees_own else {"found": None}
    shown = {
        "log": stands,
        "theirs": custom_of_log(shop.book, log),
        "at_mill": sawing_hours(shop.book, stands.id),
        "wrong": wrong,
        "typed": typed,
        **spent_shown(request, f"log:{stands.id}", INTO_A_LOG),
        **own,
    }
    return page(request, "log_earned.html", shown, status=422 if wrong else 200)


@router.post("/logs/{log}/earned")
def went_into(log: str, sent: Sent) -> Response:
    """Money or hours went into the log, or were told by a slip. Raises NotInBook, BadField, NotPossible."""
    fields, found = Fields(sent), log_at(sent.request, log)
    if custom_of_log(shop_of(sent.request).book, found.id):
        raise NotPossible("This log is a customer's: what goes into it belongs on the invoice of their job.")
    spent_typed(sent, fields, f"log:{found.id}")
    if fields.wrong:
        return _log_shown(sent.request, log, fields.wrong, sent.typed)
    return RedirectResponse(f"/logs/{log}/earned", 303)


def _of_log(shop: Shop, log: str, today: date) -> dict[str, object]:
    from waney.papers.year import shed_rate, shed_unit
    from waney.yard.services.earning import Yard, log_costs, year_of_logs

    yard, write = Yard.of(shop.book, today, log), writes(shop.settled())
    rows = [row for row in year_of_logs(yard) if yard.logs and row.name == yard.logs[0].name]
    costs, problem = _shared(lambda: log_costs(yard, log))
    return {
        "found": rows[0] if rows else None,
        "costs": costs,
        "problem": problem,
        "sold": {piece.name: yard.sold[piece.id][0] for piece in yard.pieces if piece.id in yard.sold},
        "asked": {piece.name: yard.asked[piece.id][0] for piece in yard.pieces if piece.id in yard.asked},
        "ids": {piece.name: piece.id for piece in yard.pieces},
        "rate": shed_rate(rows[0], write) if rows else None,
        "area": shed_unit(write).one,
        "money": money_in(currency_of(shop.settled())),
    }


def _shared(cost: Callable[[], Costed]) -> tuple[Costed | None, str]:
    """The costs of the log borne by its pieces, or why they cannot be shared yet."""
    try:
        return cost(), ""
    except Problem as why:
        return None, str(why)
