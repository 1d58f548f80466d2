"""One log: what is known of it, and what can be done with it."""

from __future__ import annotations

from asyncio import to_thread
from collections.abc import Mapping
from dataclasses import dataclass, field

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet import ScanPart, log_sheet
from waney.logs.sheet_text import CannotAdd, with_entry, with_fields, with_table
from waney.logs.trace import End
from waney.papers.cautions import cautions
from waney.trade.local_rules import Question
from waney.web.asked_of_sale import rules_of_a_log
from waney.web.forms import BadField, Sent, upload, wet_of
from waney.web.forms import photo as sent_photo
from waney.web.found import KINDS, Found, found_lines, found_of, on_drawing
from waney.web.log_form import outline_lines
from waney.web.routes import Router
from waney.web.scan_form import UNASKED, scan_lines, scan_sent
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import page, shop_of
from waney.web.telling import told
from waney.web.waits import one_waits
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.settings import Setting
from waney.yard.book.around import spots
from waney.yard.book.chosen import chosen_plan
from waney.yard.book.custom_seen import custom_of_log
from waney.yard.book.logs_seen import LogStands, logs
from waney.yard.book.stories import LogStory, log_story
from waney.yard.problems import NotInBook
from waney.yard.services.logs import add_to_sheet, end_log, measure_log, scan_log, seal_ends
from waney.yard.services.pictures import picture
from waney.yard.services.pieces import keep_photo, move, write_note

router = Router()


def log_at(request: Request, ident: str) -> LogStands:
    """The log of an address. Raises NotInBook."""
    found = logs(shop_of(request).book, log=ident)
    if not found:
        raise NotInBook("There is no such log in the book.")
    return found[0]


@dataclass(frozen=True)
class Refused:
    """What was sent and cannot be so, with its sentence; it stands on the page again."""

    sheet: str = ""
    found: tuple[Found, ...] = ()
    outlines: Mapping[str, str] = field(default_factory=dict)
    where: str = ""
    sentence: str = ""
    scan: Mapping[str, str] = field(default_factory=dict)


@router.get("/logs/{log}")
def log(request: Request, log: str) -> Response:
    """What is known. Raises NotInBook."""
    return _shown(request, log, Refused())


def _shown(request: Request, ident: str, refused: Refused) -> Response:
    shop = shop_of(request)
    story = log_story(shop.book, ident)
    waits = None if story.log.ended else one_waits(shop, story.log)
    custom = custom_of_log(shop.book, ident)
    shown = {
        "waits": waits,
        "custom": custom,
        "rules": () if story.log.ended or story.pieces else _rules(shop, story.log, theirs=custom is not None),
        "place": shop.settled().get(Setting.PLACE, ""),
        "cost": waits.of(ident) if waits else None,
        "log": story.log,
        "story": story,
        "history": told(story.events, writes(shop.settled())),
        "ends": list(LogEnd),
        "spots": spots(shop.book),
        "sheet": refused.sheet or story.log.sheet,
        "open_sheet": _without_price(story.log.sheet),
        "wrong": {refused.where: refused.sentence},
        "chosen": chosen_plan(shop.book, ident),
        "cautions": [caution.sentence for caution in cautions("metal in the log")],
        "drawing": on_drawing(story.log.sheet, unit_of(shop.settled())),
        "found": refused.found,
        "kinds": KINDS,
        "empty": Found(),
        "scan": _scan_of(story.log.sheet),
        "typed": {**UNASKED, **refused.scan},
        "traces": [(end, refused.outlines.get(end, ""), _photo_of(story, end)) for end in End],
    }
    return page(request, "log.html", shown, status=422 if refused.sentence else 200)


def _rules(shop: Shop, log: LogStands, *, theirs: bool) -> tuple[Question, ...]:
    """What to ask as it comes in; whether bark is on it as its sheet says. theirs: it is a customer's."""
    try:
        bark = log_sheet(log.sheet).log.bark
    except Problem:
        bark = None
    on = None if bark is None else not bark.none_left
    return rules_of_a_log(shop.settled(), log.species, bark=on, theirs=theirs)


def _without_price(sheet: str) -> str:
    """A log sheet as anybody may read it: without what was paid; empty where that cannot be taken out."""
    try:
        return with_fields(sheet, {"paid": ""})
    except CannotAdd:
        return ""


def _photo_of(story: LogStory, end: End) -> str:
    """The last photo that shows an end; empty for none."""
    return next((photo.file for photo in reversed(story.photos) if photo.shows == f"{end} end"), "")


def _scan_of(sheet: str) -> ScanPart | None:
    """The scan that a log is measured by."""
    try:
        return log_sheet(sheet).scan
    except Problem:  # written by an older or a newer program
        return None


@router.post("/logs/{log}/found")
def found(log: str, sent: Sent) -> Response:
    """Metal, rot and the like, found after it was booked in: one more form of its sheet."""
    rows, unit = found_of(sent), unit_of(shop_of(sent.request).settled())

    def told_too(text: str) -> str:
        for row in rows:
            text = with_entry(text, row.kind, found_lines(row, unit))
        return text

    try:
        if rows:
            add_to_sheet(sent.hand, log, told_too)
    except Problem as slip:
        return _shown(sent.request, log, Refused(found=rows, where="found", sentence=str(slip)))
    return RedirectResponse(f"/logs/{log}#found", 303)


@router.post("/logs/{log}/outline")
async def outline(log: str, sent: Sent) -> Response:
    """An end traced on its photo: one more form of its sheet. The photo stays with the log."""
    traced = {end.value: sent.text(f"{end}_outline") for end in End}
    zone = shop_of(sent.request).zone()

    def told_too(text: str) -> str:
        for end in End:
            if traced[end]:
                text = with_table(text, (end, "outline"), outline_lines(traced[end], end))
        return text

    try:
        photos = {end: picture(one, zone) for end in End if (one := await upload(sent.form.get(f"{end}_photo")))}
        if any(traced.values()):
            add_to_sheet(sent.hand, log, told_too)
    except Problem as slip:
        return _shown(sent.request, log, Refused(outlines=traced, where="outline", sentence=str(slip)))
    for end, photo in photos.items():
        keep_photo(sent.hand, photo.content, f"log:{log}", photo.taken_at, wet_of(sent, f"{end}_wet"), f"{end} end")
    return RedirectResponse(f"/logs/{log}#traced", 303)


@router.post("/logs/{log}/scan")
async def scanned(log: str, sent: Sent) -> Response:
    """A scan of it: its sheet names it from now on. It is read before anything is kept, beside what else is asked meanwhile."""
    scan = scan_sent(sent, await upload(sent.form.get("scan")))
    try:
        if scan is None:
            raise BadField("Choose the file of the scan first.")
        lines = await to_thread(scan_lines, scan)
        await to_thread(scan_log, sent.hand, log, scan.content, lambda text: with_table(text, ("scan",), lines))
    except Problem as slip:
        return _shown(sent.request, log, Refused(where="scanned", sentence=str(slip), scan=scan.fields if scan else {}))
    return RedirectResponse(f"/logs/{log}#scanned", 303)


@router.post("/logs/{log}/sheet")
async def measure(log: str, sent: Sent) -> Response:
    """The sheet anew; the former ones stay, and so does its scan where it names the same one."""
    text = sent.text("sheet").replace("\r\n", "\n") + "\n"
    scan = await upload(sent.form.get("scan"))
    try:
        await to_thread(measure_log, sent.hand, log, text, scan)
    except Problem as slip:
        return _shown(sent.request, log, Refused(sheet=text, where="sheet", sentence=str(slip)))
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/note")
def note(log: str, sent: Sent) -> Response:
    """A few words."""
    if sent.text("words"):
        write_note(sent.hand, f"log:{log}", sent.text("words"))
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/spot")
def spot(log: str, sent: Sent) -> Response:
    """Where it lies now. Raises BadField."""
    move(sent.hand, f"log:{log}", sent.text("spot"))
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/ends")
def ends(log: str, sent: Sent) -> Response:
    """Both ends are coated; or they are not after all."""
    seal_ends(sent.hand, log, sent.text("on"), sealed=sent.text("sealed") != "no")
    return RedirectResponse(f"/logs/{log}#waits", 303)


@router.post("/logs/{log}/photo")
async def photo(log: str, sent: Sent) -> Response:
    """A photo of it."""
    kept = await sent_photo(sent)
    if kept:
        keep_photo(sent.hand, kept.content, f"log:{log}", kept.taken_at, wet_of(sent))
    return RedirectResponse(f"/logs/{log}", 303)


@router.post("/logs/{log}/end")
def end(log: str, sent: Sent) -> Response:
    """It is no more. Raises BadField."""
    end_log(sent.hand, log, sent.choice("how", LogEnd), sent.text("words"))
    return RedirectResponse(f"/logs/{log}", 303)
