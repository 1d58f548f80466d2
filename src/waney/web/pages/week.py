"""This week: what is to be put right, and what waits for somebody."""

from __future__ import annotations

from datetime import timedelta

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.forms import Sent
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of
from waney.web.showing import page, session_at, shop_of
from waney.web.too_fast import watched
from waney.web.waits import waits_of
from waney.web.walking import due
from waney.yard.acts.settings import Setting
from waney.yard.book.days import open_days
from waney.yard.book.deposits_seen import deposits_here
from waney.yard.book.drying_seen import loads
from waney.yard.book.kiln_seen import back_since
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import MOST_COUNTED, PieceStands, count_tasks, open_tasks, pieces_by_id
from waney.yard.book.offered import trees
from waney.yard.book.selling_seen import HoldStands, leases
from waney.yard.services.amends import TOLD_APART, paid_for_gone, tell_second
from waney.yard.services.deposits import Deposit, deposits
from waney.yard.services.mill import settle
from waney.yard.services.quotes import quoted
from waney.yard.services.ready import ready_of_load
from waney.yard.services.selling import came_second, running_out
from waney.yard.services.wishes import who_asked

router = Router()
MOST_SHOWN, MOST_TASKS, MOST_URGENT = 12, 20, 5
TOLD_FOR = timedelta(weeks=4)
"""so long after it came home the week says whether a load is ready (ours)"""


def _weeks_ago(shop: Shop) -> str:
    return (shop.today() - TOLD_FOR).isoformat()


def _running_out(shop: Shop) -> list[tuple[HoldStands, tuple[PieceStands, ...], int]]:
    """With what lies here of their deposits."""
    found = running_out(shop.book, shop.today().isoformat())
    here = deposits_here(shop.book) if found else {}
    return [(hold, pieces_by_id(shop.book, hold.pieces), here.get(hold.id, 0)) for hold in found]


def _left_here(shop: Shop) -> list[tuple[Deposit, tuple[PieceStands, ...]]]:
    """Deposits of holds that have ended."""
    ended = (one for one in deposits(shop.book, shop.today().isoformat()) if one.hold.ended)
    return [(one, pieces_by_id(shop.book, one.hold.pieces)) for one in ended]


@router.get("/")
def week(request: Request) -> Response:
    """What to do; what names a buyer for those who may read it."""
    shop, seen = shop_of(request), session_at(request).sees_own
    lying = logs(shop.book, in_yard=True)
    settled = shop.settled()
    waits = waits_of(shop, lying)
    names = {log.id: log for log in lying}
    shown = {
        "waits": waits,
        "urgent": [(names[row.id], row) for row in waits.answer.logs if row.share and row.id in names][:MOST_URGENT],
        "unanswered": len(trees(shop.book, unanswered=True)),
        "tasks": open_tasks(shop.book, MOST_TASKS, but=TOLD_APART),
        "count_tasks": count_tasks(shop.book, but=TOLD_APART),
        "most_counted": MOST_COUNTED,
        "gone": paid_for_gone(shop.book, shop.today().isoformat()),
        "second": came_second(shop.book) if seen else {},
        "running_out": _running_out(shop) if seen else (),
        "left_here": _left_here(shop) if seen else (),
        "quotes": quoted(shop.book, shop.today().isoformat(), only_open=True) if seen else [],
        "asked": [one for one in who_asked(shop.book, shop.today()) if one.news] if seen else [],
        "currency": currency_of(settled),
        "away_to_sell": [lease for lease in leases(shop.book) if not lease.closed],
        "days": open_days(shop.book, MOST_SHOWN + 1),
        "most": MOST_SHOWN,
        "away": [one for one in loads(shop.book) if one.whose and not one.out],
        "back": [(one, ready_of_load(shop.book, one.id)) for one in back_since(shop.book, _weeks_ago(shop))],
        "to_saw": [log for log in lying if log.chosen and not log.pieces],
        "to_plan": [log for log in lying if not log.chosen],
        "lying": len(lying),
        "to_weigh": due(shop),
        "watched": watched(shop),
        "no_mill": not (settled.get(Setting.MILL) and settled.get(Setting.WANTS)),
    }
    return page(request, "week.html", shown)


@router.post("/tasks/{task}")
def settle_task(task: str, sent: Sent) -> Response:
    """Somebody put it right. Raises Stale when somebody else did."""
    settle(sent.hand, task, later_holds=sent.text("holds") == "later", words=sent.text("words"))
    return RedirectResponse("/", 303)


@router.post("/second/{hold}")
def told(hold: str, sent: Sent) -> Response:
    """Whoever asked second was told."""
    tell_second(sent.hand, hold)
    return RedirectResponse("/", 303)
