"""One log: what is known of it, and what can be done with it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet import log_sheet
from waney.web.forms import Writing, upload
from waney.web.forms import photo as sent_photo
from waney.web.showing import page, shop_of
from waney.web.telling import told
from waney.yard.acts.logs import LogEnd
from waney.yard.book.looking import LogStands, logs
from waney.yard.book.stories import log_story
from waney.yard.problems import NotInBook
from waney.yard.services.logs import end_log, measure_log
from waney.yard.services.pieces import keep_photo, write_note

router = APIRouter()


def log_at(request: Request, ident: str) -> LogStands:
    """The log of an address. Raises NotInBook."""
    found = logs(shop_of(request).book, log=ident)
    if not found:
        raise NotInBook("There is no such log in the book.")
    return found[0]


@router.get("/logs/{log}")
def log(request: Request, log: str) -> Response:
    """What is known. Raises NotInBook."""
    return _shown(request, log, "")


def _shown(request: Request, ident: str, problem: str, sheet: str = "") -> Response:
    story = log_story(shop_of(request).book, ident)
    shown = {
        "log": story.log,
        "story": story,
        "history": told(story.events),
        "ends": list(LogEnd),
        "sheet": sheet or story.log.sheet,
        "problem": problem,
    }
    return page(request, "log.html", shown, status=422 if problem else 200)


@router.post("/logs/{log}/sheet")
async def measure(log: str, sent: Writing) -> Response:
    """The sheet anew; the former ones stay."""
    text = sent.text("sheet").replace("\r\n", "\n") + "\n"
    scan = await upload(sent.form.get("scan"))
    try:
        log_sheet(text)
        measure_log(sent.hand, log, text, scan)
    except Problem as slip:
        return _shown(sent.request, log, str(slip), text)
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/note")
def note(log: str, sent: Writing) -> Response:
    """A few words."""
    if sent.text("words"):
        write_note(sent.hand, f"log:{log}", sent.text("words"))
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/photo")
async def photo(log: str, sent: Writing) -> Response:
    """A photo of it."""
    kept = await sent_photo(sent)
    if kept:
        keep_photo(sent.hand, kept.content, f"log:{log}", kept.taken_at)
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/end")
def end(log: str, sent: Writing) -> Response:
    """It is no more."""
    end_log(sent.hand, log, LogEnd(sent.text("how")), sent.text("words"))
    return RedirectResponse(f"/logs/{log}", 303)
