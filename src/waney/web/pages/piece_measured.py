"""One piece as it lies there: traced on its photo, or its sheet written by hand; area, widths, board feet."""

from __future__ import annotations

import json
from asyncio import to_thread
from base64 import b64encode
from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.asked.measure import MEASURE, MeasureAnswer, MeasureAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask, program
from waney.web.forms import Sent, photo
from waney.web.piece_form import FIELDS, sheet_of, tapped_of
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.every import act_of
from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book import jobs
from waney.yard.book.book import Book
from waney.yard.book.files import name_of
from waney.yard.book.stories import PieceStory, piece_story
from waney.yard.services.pieces import keep_photo, measure_piece

router = Router()


@router.get("/pieces/{piece}/measured")
def piece_measured(request: Request, piece: str) -> Response:
    """What was measured last, and the form to measure anew; `?photo=` is the one that is traced. Raises NotInBook."""
    return _shown(request, piece, request.query_params.get("photo", ""), {}, "")


def _shown(request: Request, ident: str, chosen: str, answers: dict[str, str], wrong: str) -> Response:
    shop = shop_of(request)
    story = piece_story(shop.book, ident)
    last = newest(story)
    job, answer = measuring(shop, last) if last else (None, None)
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
        "wrong": {"form": wrong},
    }
    return page(request, "piece_measured.html", shown, status=422 if wrong else 200)


def newest(story: PieceStory) -> PieceMeasured | None:
    """The last sheet that was written of a piece."""
    return next((act for _, act in _measured(story)), None)


def measured_on(story: PieceStory) -> str:
    """When the last sheet was written; empty where none was."""
    return next((when for when, _ in _measured(story)), "")


def _measured(story: PieceStory) -> Iterator[tuple[str, PieceMeasured]]:
    """Sheets with when they were written, newest first."""
    for told in reversed(story.events):
        act = act_of(told.event.kind, json.loads(told.event.body))
        if isinstance(act, PieceMeasured):
            yield told.event.happened_at, act


def measuring(shop: Shop, last: PieceMeasured) -> tuple[Job, MeasureAnswer | None]:
    """The job that measures by this sheet, and its answer; None while there is none."""
    job = ask(shop, MEASURE, _asked(shop.book, last, metric=unit_of(shop.settled()) == "mm"))
    content = answer_of(shop, job)
    return job, read_back(content, MeasureAnswer) if content else None


def measured_before(book: Book, last: PieceMeasured, *, metric: bool) -> MeasureAnswer | None:
    """What was worked out by this sheet, where somebody looked at it before; nothing is asked."""
    found = jobs.find(book, MEASURE, _asked(book, last, metric=metric), program())
    content = None if found is None else jobs.answer(book, found.id)
    return read_back(content, MeasureAnswer) if content else None


def _asked(book: Book, last: PieceMeasured, *, metric: bool) -> bytes:
    picture = b64encode(book.files.read(last.photo)).decode("ascii") if last.photo and book.files.has(last.photo) else ""
    return as_bytes(MeasureAsked(last.sheet, picture, metric))


@router.post("/pieces/{piece}/measured")
async def measure(piece: str, sent: Sent) -> Response:
    """A piece was traced on its photo, or its sheet was written. Raises NotInBook."""
    shop = shop_of(sent.request)
    story = piece_story(shop.book, piece)
    answers = {name: sent.text(name) for name in (*FIELDS, "taps", "sheet")}
    kept = sent.text("kept")
    try:
        picture = await photo(sent)
        if answers["taps"]:
            tapped = tapped_of(answers["taps"])
            file = name_of(picture.content) if picture else kept
            sheet = sheet_of(story.piece, answers, tapped, unit_of(shop.settled()), file)
        else:
            file, sheet = "", answers["sheet"]
        await to_thread(_readable, sheet)
        if picture:
            keep_photo(sent.hand, picture.content, f"piece:{piece}", picture.taken_at, False if sent.text("dry") else None)
        measure_piece(sent.hand, piece, sheet, file)
    except Problem as slip:
        return _shown(sent.request, piece, kept, answers, str(slip))
    return RedirectResponse(f"/pieces/{piece}/measured", 303)


def _readable(sheet: str) -> None:
    """Loads the reader only when somebody writes. Raises SheetProblems."""
    from waney.pieces.piece_sheet import read_piece_sheet

    read_piece_sheet(sheet)
