"""One piece as it lies there: traced on its photo, or its sheet written by hand; area, widths, board feet."""

from __future__ import annotations

from asyncio import to_thread
from collections.abc import Collection, Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.forms import Sent, photo
from waney.web.measured import measuring, newest, newest_shaped
from waney.web.piece_form import FIELDS, BadTaps, sheet_of, tapped_of
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.book.files import name_of
from waney.yard.book.stories import piece_story
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
    shown = {
        "piece": story.piece,
        "photos": files,
        "chosen": chosen if chosen in files else (files[-1] if files else ""),
        "sheet": answers.get("sheet") or (last.sheet if last else ""),
        "taps": answers.get("taps", ""),
        "answers": {name: answers.get(name, "") for name in FIELDS},
        "job": job,
        "answer": answer,
        "wrong": wrong,
    }
    return page(request, "piece_measured.html", shown, status=422 if wrong else 200)


@router.post("/pieces/{piece}/measured")
async def measure(piece: str, sent: Sent) -> Response:
    """A piece was traced on its photo, or its sheet was written. Raises NotInBook."""
    shop = shop_of(sent.request)
    story = piece_story(shop.book, piece)
    answers = {name: sent.text(name) for name in (*FIELDS, "taps", "sheet")}
    kept = sent.text("kept")
    try:
        picture = await photo(sent)
        sheet, own = answers["sheet"], {one.file for one in story.photos}
        if answers["taps"]:
            tapped = tapped_of(answers["taps"])
            taken = name_of(picture.content) if picture else kept
            sheet, own = sheet_of(story.piece, answers, tapped, unit_of(shop.settled()), taken), own | {taken}
        file = await to_thread(_photo_of, sheet, own)
        if picture:
            keep_photo(sent.hand, picture.content, f"piece:{piece}", picture.taken_at, False if sent.text("dry") else None)
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
