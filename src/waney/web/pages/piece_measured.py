"""One piece as it lies there: traced on its photo, or its sheet written by hand; area, widths, board feet."""

from __future__ import annotations

import json
from asyncio import to_thread
from collections.abc import Collection, Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_entry
from waney.web.forms import Sent, photo, wet_of
from waney.web.measured import measuring, newest, newest_shaped
from waney.web.piece_form import FIELDS, BadTaps, Before, before_of, sheet_of, tapped_of
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.book.files import name_of
from waney.yard.book.stories import PieceStory, piece_story
from waney.yard.services.pieces import keep_photo, measure_piece

router = Router()


@router.get("/pieces/{piece}/measured")
def piece_measured(request: Request, piece: str) -> Response:
    """What was measured last, and the form to measure anew; `?photo=` is the one that is traced. Raises NotInBook."""
    return _shown(request, piece, request.query_params.get("photo", ""), {}, "")


def _shown(request: Request, ident: str, chosen: str, answers: Mapping[str, str], wrong: str) -> Response:
    shop = shop_of(request)
    story = piece_story(shop.book, ident)
    last = newest(story)
    shaped = newest_shaped(story)
    job, answer = measuring(shop, shaped) if shaped else (None, None)
    files = [one.file for one in story.photos]
    chosen = chosen if chosen in files else (files[-1] if files else "")
    before = _before(story, chosen)
    told = answers or {**before.answers, "taps": before.taps}
    shown = {
        "piece": story.piece,
        "photos": files,
        "chosen": chosen,
        "sheet": answers.get("sheet") or (last.sheet if last else ""),
        "taps": told.get("taps", ""),
        "answers": {name: told.get(name, "") for name in (*FIELDS, "wet")},
        "job": job,
        "answer": answer,
        "wrong": wrong,
        "planned": bool(story.plan),
    }
    return page(request, "piece_measured.html", shown, status=422 if wrong else 200)


def _before(story: PieceStory, photo: str) -> Before:
    """What was traced on this photo last, to go on with."""
    last = newest(story)
    return before_of(last.sheet, story.piece) if last and photo and last.photo == photo else Before()


def _marked(sheet: str, told: Mapping[str, object]) -> str:
    """The sheet with a mark of another one, as it is told there. Raises CannotAdd."""
    return with_entry(sheet, "mark", [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in told.items()])


@router.post("/pieces/{piece}/measured")
async def measure(piece: str, sent: Sent) -> Response:
    """A piece was traced on its photo, or its sheet was written. Raises NotInBook."""
    shop = shop_of(sent.request)
    story = piece_story(shop.book, piece)
    answers = {name: sent.text(name) for name in (*FIELDS, "taps", "sheet", "wet")}
    kept = sent.text("kept")
    try:
        picture = await photo(sent)
        sheet, own = answers["sheet"], {one.file for one in story.photos}
        if answers["taps"]:
            tapped = tapped_of(answers["taps"])
            taken = name_of(picture.content) if picture else kept
            sheet, own = sheet_of(story.piece, answers, tapped, unit_of(shop.settled()), taken), own | {taken}
            for typed in _before(story, taken).typed:
                sheet = _marked(sheet, typed)
        file = await to_thread(_photo_of, sheet, own)
        if picture:
            keep_photo(sent.hand, picture.content, f"piece:{piece}", picture.taken_at, wet_of(sent))
        measure_piece(sent.hand, piece, sheet, file)
    except Problem as slip:
        return _shown(sent.request, piece, kept, answers, str(slip))
    return RedirectResponse(f"/pieces/{piece}/measured", 303)


def _photo_of(sheet: str, own: Collection[str]) -> str:
    """The photo of the piece that a sheet names, empty for none; loads the reader only when somebody writes.

    Raises SheetProblems, BadTaps.
    """
    from waney.pieces.piece_sheet import read_piece_sheet

    named = read_piece_sheet(sheet).photo
    file = named.file if named else ""
    if file and file not in own:
        raise BadTaps(f"The sheet names the photo {file[:20]}, which is none of this piece's; choose it above and trace it.")
    return file
