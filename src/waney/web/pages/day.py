"""Sawing days: begun, looked at, ended."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.forms import Sent
from waney.web.rough_form import FIELDS, Round
from waney.web.routes import Router
from waney.web.showing import page, shop_of
from waney.yard.book.around import spots
from waney.yard.book.days import DayStands, came_off, latest_days, open_days
from waney.yard.book.days import day as day_stands
from waney.yard.book.logs_seen import logs
from waney.yard.problems import NotInBook
from waney.yard.services.mill import carry_to, close_day, open_day

router = Router()
MOST_DAYS = 30


@router.get("/day")
def days(request: Request) -> Response:
    """Days, and what may be sawn."""
    return days_shown(request, dict.fromkeys(FIELDS, ""), {})


def days_shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    """The page, with what was typed for a rough plan."""
    book = shop_of(request).book
    lying = sorted(logs(book, in_yard=True), key=lambda log: not log.chosen)
    shown = {
        "days": latest_days(book, MOST_DAYS),
        "logs": lying,
        "typed": typed,
        "wrong": wrong,
        "rounds": list(Round),
    }
    return page(request, "days.html", shown, status=422 if wrong else 200)


@router.post("/day/begin")
def begin(sent: Sent) -> Response:
    """Begin a day, or go on with the one that is open, with a log or without one."""
    ident, log = today_at_the_mill(sent), sent.text("log")
    return RedirectResponse(f"/day/{ident}/at/{log}" if log else f"/day/{ident}", 303)


def today_at_the_mill(sent: Sent) -> str:
    """The day that is open today; it begins where none is."""
    shop = shop_of(sent.request)
    today = shop.today().isoformat()
    held = next((one for one in open_days(shop.book) if one.on == today), None)
    return held.id if held else open_day(sent.hand, today).id


def day_at(request: Request, ident: str) -> DayStands:
    """The day of an address. Raises NotInBook."""
    found = day_stands(shop_of(request).book, ident)
    if found is None:
        raise NotInBook("There is no such sawing day in the book.")
    return found


@router.get("/day/{day}")
def day(request: Request, day: str) -> Response:
    """What came off, by log; what may be sawn next."""
    book, found = shop_of(request).book, day_at(request, day)
    off = came_off(book, day)
    every = logs(book)
    here = {one.log for one in off}
    others = [log for log in every if not log.ended and log.id not in here]
    shown = {"day": found, "off": off, "logs": [log for log in every if log.id in here], "others": others, "spots": spots(book)}
    return page(request, "day.html", shown)


@router.post("/day/{day}/spot")
def spot(day: str, sent: Sent) -> Response:
    """Where what comes off is carried from now on."""
    carry_to(sent.hand, day, sent.text("spot"))
    return RedirectResponse(f"/day/{day}", 303)


@router.post("/day/{day}/close")
def close(day: str, sent: Sent) -> Response:
    """The mill is swept."""
    close_day(sent.hand, day)
    return RedirectResponse(f"/day/{day}", 303)
