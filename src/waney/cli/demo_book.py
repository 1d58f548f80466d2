"""The demo's yard book: an invented year, and then the log that `waney demo` plans, written down as any yard would."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from datetime import datetime
from importlib.resources import files
from itertools import chain
from pathlib import Path

from waney.cli.demo_year.diary import Ids
from waney.cli.demo_year.year import write_year
from waney.papers.words import Shop
from waney.yard.book.book import Book, make_book
from waney.yard.book.engine import in_folder
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, keep_plan

LOG = "0e5c3a52-7d1f-4b61-9a64-3f2c8a1d9b01"
"""The id of the demo's log; the demo's tally speaks of it."""
NAMES = ("wants-before", "costs", "kilns", "prices", "terms")
"""sheets that the demo settles, besides those of its plan"""
UNDER_WAY = "being-written"
"""a folder that becomes the book when it is whole"""


def write_down(folder: Path, sheets: Mapping[str, str], plan: str, now: datetime, shop: Shop) -> None:
    """Make the book: all of it, or, where somebody stops it, none."""
    beside = folder / UNDER_WAY
    shutil.rmtree(beside, ignore_errors=True)
    book = make_book(in_folder(beside), now)
    try:
        _write(book, sheets, plan, now, shop)
    finally:
        book.close()
    for part in sorted(beside.iterdir(), reverse=True):  # the files first: with book.sqlite it is there
        part.rename(folder / part.name)
    beside.rmdir()


def _write(book: Book, sheets: Mapping[str, str], plan: str, now: datetime, shop: Shop) -> None:
    folder = files("waney") / "data" / "demo"
    more = {name: (folder / f"{name}.toml").read_text(encoding="utf-8") for name in NAMES}
    write_year(book, now.date(), {**sheets, **more, "before": more["wants-before"]}, shop)
    ids = Ids("the demo's log")
    drawn = chain([LOG], iter(ids, None))
    hand = Hand(book, ids(), "", lambda: now, lambda: next(drawn))
    log = add_log(hand, NewLog(sheets["log"], code="W"))
    keep_plan(hand, log.id, 1, plan)
