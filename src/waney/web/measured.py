"""What was measured of a piece as it lies: its last sheet, the job that works it out, and what that answered."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterator

from waney.pieces.sheet_told import has_shape, told_in
from waney.web.asked.kinds import MEASURE
from waney.web.asked.measure import MeasureAnswer, MeasureAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask, program
from waney.web.shop import Shop, unit_of
from waney.yard.acts.every import act_of
from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book import jobs
from waney.yard.book.book import Book
from waney.yard.book.stories import PieceStory


def newest(story: PieceStory) -> PieceMeasured | None:
    """The last sheet that was written of a piece."""
    return next((act for _, act in _measured(story)), None)


def newest_with(story: PieceStory, name: str) -> PieceMeasured | None:
    """The last sheet in which a field or a table of this name stands."""
    return next((act for _, act in _measured(story) if name in told_in(act.sheet)), None)


def newest_shaped(story: PieceStory) -> PieceMeasured | None:
    """The last sheet that says how long and wide the piece is, or its edges: without them nothing can be measured by it."""
    return next((act for _, act in _shaped(story)), None)


def measured_on(story: PieceStory) -> str:
    """When the last such sheet was written; empty where none was."""
    return next((when for when, _ in _shaped(story)), "")


def _shaped(story: PieceStory) -> Iterator[tuple[str, PieceMeasured]]:
    return (one for one in _measured(story) if has_shape(told_in(one[1].sheet)))


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
    return as_bytes(MeasureAsked(last.sheet, picture_in(book, last.photo), metric))


def picture_in(book: Book, file: str) -> str:
    """A photo of the book in base64; empty for none, and for one that is lost."""
    return b64encode(book.files.read(file)).decode("ascii") if file and book.files.has(file) else ""


def checked(sheet: str) -> str:
    """A sheet that can be read; loads the reader only when somebody writes. Raises SheetProblems."""
    from waney.pieces.piece_sheet import read_piece_sheet

    read_piece_sheet(sheet)
    return sheet
