"""The demo's yard book: its log and its plan written down, as any yard would."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from itertools import chain, repeat
from pathlib import Path
from uuid import uuid4

from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.engine import in_folder
from waney.yard.book.looking import logs
from waney.yard.problems import NoBook
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, keep_plan

LOG = "0e5c3a52-7d1f-4b61-9a64-3f2c8a1d9b01"
"""The id of the demo's log; the demo's tally speaks of it."""


def write_down(folder: Path, sheets: Mapping[str, str], plan: str) -> None:
    """Book the demo's log in, once, with the plan that was made for it."""
    book = _opened(folder)
    if not logs(book):
        ids = chain([LOG], (str(uuid4()) for _ in repeat(None)))
        hand = Hand(book, str(uuid4()), "", lambda: datetime.now(UTC), lambda: next(ids))
        log = add_log(hand, NewLog(sheets["log"], code="W"))
        keep_plan(hand, log.id, 1, plan)
    book.close()


def _opened(folder: Path) -> Book:
    try:
        return open_book(in_folder(folder))
    except NoBook:
        return make_book(in_folder(folder), datetime.now(UTC))
