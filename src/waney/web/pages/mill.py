"""At the mill: one log on the bed, the next cut in huge figures."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from waney.figures.problem import Problem
from waney.figures.typed_json import Json
from waney.papers.cautions import cautions
from waney.papers.words import Measure
from waney.web.asking import Job
from waney.web.device import device_of, known_again, taken_along
from waney.web.forms import BadField, Sent, photo
from waney.web.mill.fold import Stands, stands
from waney.web.mill.gather import as_json, gathered
from waney.web.mill.holds import Holds
from waney.web.mill.plain import CLOCK, lately, misses, pith_heights
from waney.web.mill.steps import steps_of
from waney.web.mill.taps import Tap, as_a_cant, clamped, found, tapped, without_plan
from waney.web.pages.binding import on_photo
from waney.web.pages.day import day_at
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.showing import page, part, session_at, shop_of
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off
from waney.yard.book.days import at_it, came_off
from waney.yard.book.logs_seen import logs_to_saw
from waney.yard.book.looking import version_of
from waney.yard.book.tags import known_tags, stapled
from waney.yard.known_tags import in_the_way, meant
from waney.yard.services.mill import take_back, take_off, tell_of_mill
from waney.yard.services.pieces import keep_photo, tag_piece
from waney.yard.streams import checked_id, stream

router = Router()
MOST_LOGS = 6
"""planned logs that are offered to whoever takes pieces off"""

SEEN_ON = (
    "Seen to run on Linux in Chromium (140 and later), Firefox (153) and WebKit (2.50); on no phone and not in Safari. "
    "Try it with one piece first."
)
"""of the page that is taken along; docs/design/client.md has the same"""
SAID = {
    "meanwhile": "Nothing was written: this tap came twice, or somebody tapped meanwhile. Look at what stands here now.",
    "photo": "The photo of this face is kept with the log.",
    "no photo": "No photo was chosen; nothing was written.",
}
"""what a page without its module says after something was sent"""


@dataclass(frozen=True)
class TagTyped:
    """A tag as it was told: the stream of its piece, and the characters."""

    about: str
    name: str


@router.get("/day/{day}/at/{log}")
def mill(request: Request, day: str, log: str) -> Response:
    """The page; it holds all it needs, and says so to the worker that keeps it."""
    return _shown(request, day, log, SAID.get(request.query_params.get("said", ""), ""))


def _shown(request: Request, day: str, log: str, said: str, tag: TagTyped | None = None) -> Response:
    """tag: what was typed of one that cannot be; it stands there again."""
    device = device_of(request)
    holds, job = _with_tags(request, day, log, device)
    now = stands(holds.at_mill, holds.done) if holds.at_mill else None
    shown = {
        "holds": holds,
        "job": job,
        "json": _inside(holds),
        **_next(holds, now),
        "phone": _sentences("at the blade"),
        "blade": _sentences("pinched blade", "band break"),
        "said": said,
        "tag": tag,
        "last": _last(holds),
        "misses": misses(holds),
        "pith": pith_heights(holds, now) if now else (),
        "clock": CLOCK,
        "lately": lately(holds),
        "photo_id": shop_of(request).new_id(),
    }
    answer = page(request, "mill.html", shown, status=422 if tag else 200)
    # without the heights of its plan nobody is to walk off with it
    return known_again(request, answer, device) if _waits(job) else taken_along(request, answer, device)


def _with_tags(request: Request, day: str, log: str, device: str) -> tuple[Holds, Job | None]:
    """All that the page holds, for whoever may write with the names that can be stapled on."""
    holds, job = _holds(request, day, log, device)
    return (replace(holds, tags=known_tags(shop_of(request).book)) if session_at(request).member else holds), job


def _looked_at(request: Request, day: str, log: str) -> Holds:
    """The same for what is only looked at: no names are taken for it."""
    shop = shop_of(request)
    found, at_day = log_at(request, log), day_at(request, day)
    holds = gathered(shop, None, device_of(request), at_day, found, steps_of(shop, log)[0])
    return replace(holds, tags=known_tags(shop.book))


def _holds(request: Request, day: str, log: str, device: str) -> tuple[Holds, Job | None]:
    shop, member = shop_of(request), session_at(request).member
    found, at_day = log_at(request, log), day_at(request, day)
    mill, job = steps_of(shop, log)
    return gathered(shop, member, device, at_day, found, mill), job


def _waits(job: Job | None) -> bool:
    """Whether the heights of a plan are still worked out."""
    return job is not None and job.goes_on


def _next(holds: Holds, now: Stands | None) -> dict[str, object]:
    """What stands in the page of the next step; a figure is None where it is not said."""
    if holds.at_mill is None or now is None:
        return {"now": None, "step": None}
    thick = now.thickness_m(holds.at_mill)
    comes = None if thick is None else holds.thickness(thick)
    return {
        "now": now,
        "step": _step(holds, now),
        "height": _printed(holds, now.height_steps),
        "stops": _printed(holds, now.stops_steps),
        "aslant": _printed(holds, abs(now.off_steps)),
        "comes": comes,
        "comes_words": "" if comes is None else str(Measure(*comes)),
        "comes_by": _printed(holds, abs(now.comes_steps)),
    }


def _step(holds: Holds, now: Stands | None) -> object:
    return holds.at_mill.steps[now.step] if holds.at_mill and now and now.step is not None else None


def _printed(holds: Holds, steps: int | None) -> tuple[str, str, str, str] | None:
    if holds.at_mill is None or steps is None:
        return None
    return holds.at_mill.printed[min(steps, len(holds.at_mill.printed) - 1)]


@router.post("/day/{day}/at/{log}", says_so=True)
def tap(day: str, log: str, sent: Sent) -> Response:
    """One tap, from a page without its module. Where somebody tapped after the page was made, nothing is written."""
    holds, _ = _holds(sent.request, day, log, device_of(sent.request))
    if sent.form.get("last", _last(holds)) != _last(holds):
        return _back(day, log, "meanwhile")
    act = _act(sent, holds)
    if isinstance(act, AtTheMill):
        tell_of_mill(sent.hand, act)
    elif act is not None:
        take_off(sent.hand, act)
    elif sent.text("do") == "undo" and holds.done:
        take_back(sent.hand, holds.done[-1].command, holds.done[-1].about)
    return _back(day, log)


def _last(holds: Holds) -> str:
    """What was done last, as a command's id; empty for nothing."""
    return holds.done[-1].command if holds.done else ""


def _back(day: str, log: str, said: str = "") -> Response:
    return RedirectResponse(f"/day/{day}/at/{log}" + (f"?said={quote(said)}" if said else ""), 303)


def _act(sent: Sent, holds: Holds) -> CameOff | AtTheMill | None:
    do, piece = sent.text("do"), sent.hand.new_id()
    if do == "sawn":
        return tapped(holds, Tap(_how(sent), sent.whole("thick")), piece)
    if do == "thickness":
        return without_plan(holds, _metres(sent, "thickness"), piece, _by_eye(sent))
    if do == Off.CANT:
        return as_a_cant(holds, piece)
    if do == Happened.CLAMPED_AGAIN:
        return clamped(holds, _pith(sent))
    if do in tuple(Happened):
        return found(holds, Happened(do), _metres(sent, "along_m"), sent.whole("clock") or None, sent.text("words"))
    return None


def _how(sent: Sent) -> Off:
    return sent.choice("how", Off, Off.AS_MEANT)


def _by_eye(sent: Sent) -> Tap:
    """How it came off, by how many marks in the same choice. Raises BadField."""
    how, _, steps = sent.text("how").partition(" ")
    if how in (Off.THICK, Off.THIN) and steps.lstrip("-").isdecimal():
        return Tap(Off(how), int(steps))
    return Tap(_how(sent))


def _pith(sent: Sent) -> tuple[int, int] | None:
    """Where the pith was read, in marks of the bed scale; None where it was not. Raises BadField."""
    told = [bool(sent.text(end)) for end in ("butt", "top")]
    if any(told) and not all(told):
        raise BadField("The pith is read at both ends; choose its height at the butt and at the top.")
    return (sent.whole("butt"), sent.whole("top")) if all(told) else None


def _metres(sent: Sent, name: str) -> float | None:
    """A length that the page offered [m]; None for not known. Raises BadField."""
    text = sent.text(name)
    try:
        return float(text) if text else None
    except ValueError:
        raise BadField("Choose one of the lengths that the page offers.") from None


@router.post("/day/{day}/at/{log}/tag", says_so=True)
async def tag(day: str, log: str, sent: Sent) -> Response:
    """A tag was stapled on, from a page without its module. Raises BadField."""
    holds = _looked_at(sent.request, day, log)
    if sent.form.get("last", _last(holds)) != _last(holds):
        return _back(day, log, "meanwhile")
    piece = next((one for one in lately(holds) if one.about == sent.text("about")), None)
    if piece is None:
        raise BadField("Choose one of the pieces that the page offers.")
    try:
        name = await on_photo(sent, "tag") or meant(holds.tags, sent.text("name"))
        said = in_the_way(holds.tags, name, piece.name)
    except Problem as slip:
        said = str(slip)
    if not said:
        said = tag_piece(sent.hand, piece.about.removeprefix("piece:"), str(name)).sentence
    typed = TagTyped(piece.about, sent.text("name"))
    return _shown(sent.request, day, log, said, typed) if said else _back(day, log)


@router.get("/day/{day}/at/{log}/along")
def along(request: Request, day: str, log: str) -> Response:
    """The page in one file, with names of its own, for a phone that cannot reach the yard; while the heights of its plan are
    worked out, back to where that is seen."""
    shop = shop_of(request)
    if _waits(steps_of(shop, log_at(request, log).id)[1]):
        return _back(day, log)
    holds, _ = _with_tags(request, day, log, shop.new_id())
    files = {name: shop.built.text(name) for name in ("look.css", "along.js")}
    inside = {
        "holds": holds,
        "json": _inside(holds),
        "look": files["look.css"],
        "module": files["along.js"].replace("</", "<\\/"),
    }
    said = {"seen_on": SEEN_ON, "phone": _sentences("at the blade"), "blade": _sentences("pinched blade", "band break")}
    name = quote(f"saw-{holds.log_name}-{holds.on}.html")
    headers = {"content-disposition": f'attachment; filename="{name}"'}
    return HTMLResponse(part("along.html", {**inside, **said}), headers=headers)


def _inside(holds: Holds) -> str:
    """JSON that may stand in a page."""
    return json.dumps(as_json(holds)).replace("<", "\\u003c")


def _sentences(*steps: str) -> list[str]:
    return [one.sentence for one in cautions(*steps)]


@router.get("/api/day/{day}/at/{log}")
def mill_json(request: Request, day: str, log: str) -> Response:
    """The same, for the page's module when it is in reach again."""
    holds, _ = _with_tags(request, day, log, device_of(request))
    body: Json = as_json(holds)
    return JSONResponse(body | {"token": session_at(request).token})


@router.post("/api/day/{day}/at/{log}/photo/{ident}")
async def face(day: str, log: str, ident: str, sent: Sent) -> Response:
    """A photo of a face, under the id that the page gave it: sent twice it is kept once. Raises BadPicture, BadAct, BookFull."""
    return JSONResponse({"kept": await _keep_face(sent, day, log, ident)})


@router.post("/day/{day}/at/{log}/photo")
async def face_sent(day: str, log: str, sent: Sent) -> Response:
    """The same from a page without its module, which has the id in a field. Raises BadPicture, BadAct, BookFull."""
    ident = sent.text("photo_id") or sent.hand.new_id()
    return _back(day, log, "photo" if await _keep_face(sent, day, log, ident) else "no photo")


async def _keep_face(sent: Sent, day: str, log: str, ident: str) -> bool:
    """Whether there was a photo."""
    shop, about = shop_of(sent.request), f"log:{log_at(sent.request, log).id}"
    taken = await photo(sent)
    if taken is not None and not version_of(shop.book, stream("photo", checked_id(ident, "photo"))):
        shows = f"a face, at the mill on {day_at(sent.request, day).on}"
        keep_photo(sent.hand, taken.content, about, taken.taken_at, wet=True, shows=shows, photo=ident)  # off the saw
    return taken is not None


@router.get("/day/{day}/beside")
def beside(request: Request, day: str) -> Response:
    """For whoever takes pieces off: what comes next, how heavy, which end to mark. Nothing is written here, no name taken.

    `?log=`: the log that lies on the bed, where nothing was told of it yet. Raises NotInBook.
    """
    shop, found = shop_of(request), day_at(request, day)
    asked = request.query_params.get("log", "")
    last = at_it(shop.book, day, asked)
    log, device = (last.log, last.device) if last else (asked, "")
    holds, job = None, None
    if log:
        stands_there, (mill, job) = log_at(request, log), steps_of(shop, log)
        holds = gathered(shop, None, device, found, stands_there, mill)
    now = stands(holds.at_mill, holds.done) if holds and holds.at_mill else None
    shown = {
        "day": found,
        "off": came_off(shop.book, day),
        "crayon": {one.piece: one.crayon for one in stapled(shop.book, day)},
        "holds": holds,
        "waits": _waits(job),
        **(_next(holds, now) if holds else {"now": None, "step": None}),
        "again": f"/day/{day}/beside" + (f"?log={quote(asked)}" if asked else ""),
        "logs": logs_to_saw(shop.book, log, MOST_LOGS),
    }
    return page(request, "beside.html", shown)
