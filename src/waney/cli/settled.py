"""Settled: the sheets a command works with: files that were named, else the settings of a yard that was named."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from waney.trade.record import Record
    from waney.yard.book.book import Book

Read = TypeVar("Read")


def settled_in(yard: str | None, named: Mapping[str, Path | None]) -> Mapping[str, str]:
    """Text of each sheet by the name of its setting; what is neither named nor settled is left out. Raises NoBook, NoFile."""
    from waney.cli.files import read_text
    from waney.yard.book.looking import settings

    files = {what: read_text(file) for what, file in named.items() if file is not None}
    return files if yard is None else {**_read(yard, settings), **files}


def record_in(yard: str | None) -> Record:
    """The own record of a yard that was named; nothing for none. Raises NoBook, SheetProblems."""
    from waney.trade.record import Record
    from waney.yard.services.record import own_record

    return Record() if yard is None else _read(yard, own_record)


def record_for_offers(yard: str | None) -> Record:
    """Of that record what an offered tree is valued by; no sheet is read for it. Raises NoBook."""
    from waney.trade.record import Record
    from waney.yard.services.record import drying_and_sales

    return Record() if yard is None else _read(yard, drying_and_sales)


def _read(yard: str, look: Callable[[Book], Read]) -> Read:
    from waney.cli.books import lies_at
    from waney.yard.book.book import open_book

    book = open_book(lies_at(yard, None))
    try:
        return look(book)
    finally:
        book.close()
