"""Logs in the yard, and the form that books one in."""

from __future__ import annotations

from asyncio import to_thread
from datetime import date

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.trace import End
from waney.web.forms import Sent, upload, wet_of
from waney.web.found import KINDS, Found, grain_of
from waney.web.log_form import NAMES, answers_of, sheet_text
from waney.web.routes import Router
from waney.web.scan_form import UNASKED, fields_of, scan_lines, scan_sent
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.web.waits import waits_of
from waney.yard.book.around import spots
from waney.yard.book.custom_seen import custom_at, customers_logs
from waney.yard.book.logs_seen import logs as all_logs
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.pictures import picture
from waney.yard.services.pieces import keep_photo

router = Router()


@router.get("/logs")
def logs(request: Request) -> Response:
    """What lies in the yard, the dearest to leave lying first, what nobody worked out yet last; then what is no more."""
    shop = shop_of(request)
    found = all_logs(shop.book)
    there = tuple(log for log in found if not log.ended)
    waits, today = waits_of(shop, there), shop.today()
    costs = {row.id: (place, row) for place, row in enumerate(waits.answer.logs)}
    lying = sorted(there, key=lambda log: (costs[log.id][0] if log.id in costs else len(costs), log.felled_on or "9999"))
    rows = [(log, _days(log.felled_on, today), costs[log.id][1] if log.id in costs else None) for log in lying]
    shown = {"rows": rows, "waits": waits, "gone": [log for log in found if log.ended]}
    return page(request, "logs.html", shown | {"theirs": customers_logs(shop.book)})


def _days(felled_on: str, today: date) -> int | None:
    return (today - date.fromisoformat(felled_on)).days if felled_on else None


@router.get("/logs/new")
def new(request: Request) -> Response:
    """The form, in the order one walks round the log."""
    return _form(request, {**dict.fromkeys(NAMES, ""), **UNASKED}, (), "", custom=request.query_params.get("custom", ""))


def _form(
    request: Request,
    typed: dict[str, str],
    found: tuple[Found, ...],
    problem: str,
    sheet: str = "",
    spot: str = "",
    custom: str = "",
) -> Response:
    shop = shop_of(request)
    unit = unit_of(shop.settled())
    shown = {
        "typed": typed,
        "found": found,
        "kinds": KINDS,
        "empty": Found(),
        "problem": problem,
        "sheet": sheet,
        "spots": spots(shop.book),
        "spot": spot,
        "custom": custom,
        "unit": unit,
        "grain": grain_of(unit),
    }
    return page(request, "log_new.html", shown, status=422 if problem else 200)


@router.post("/logs/new")
async def book_in(sent: Sent) -> Response:
    """Book a log in, by the form or by a sheet that was pasted."""
    shop = shop_of(sent.request)
    pasted, custom = sent.text("sheet"), sent.text("custom")
    answers, scan = answers_of(sent, unit_of(shop.settled())), scan_sent(sent, await upload(sent.form.get("scan")))
    try:
        photos = {end: picture(sent_one, shop.zone()) for end in End if (sent_one := await upload(sent.form.get(f"{end}_photo")))}
        lines = await to_thread(scan_lines, scan) if scan and not pasted else ()
        text = pasted.replace("\r\n", "\n") + "\n" if pasted else sheet_text(answers, lines)
        if custom:
            custom_at(shop.book, custom)  # before the log is written: the job may be none
        new = NewLog(text, scan=scan.content if scan else None, spot=sent.text("spot"))
        made = await to_thread(add_log, sent.hand, new)
    except Problem as slip:
        typed = {**answers.fields, **fields_of(sent), "scan_name": scan.name if scan and not pasted else ""}
        return _form(sent.request, typed, answers.found, str(slip), pasted, sent.text("spot"), custom)
    for end, photo in photos.items():
        keep_photo(sent.hand, photo.content, f"log:{made.id}", photo.taken_at, wet_of(sent, f"{end}_wet"), f"{end} end")
    return _booked(sent, made.id, custom)


def _booked(sent: Sent, log: str, custom: str) -> Response:
    """Whoever brought it is told of it, if it is somebody's."""
    if not custom:
        return RedirectResponse(f"/logs/{log}", 303)
    from waney.yard.services.custom import tell_logs  # loads what saws in thought

    held = [one.log for one in custom_at(shop_of(sent.request).book, custom).logs]
    if log not in held:
        tell_logs(sent.hand, custom, (*held, log))
    return RedirectResponse(f"/custom/{custom}", 303)
