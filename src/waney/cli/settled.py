"""Settled: the sheets a command works with: files that were named, else the settings of a yard that was named."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from waney.trade.record import Record


def settled_in(yard: str | None, named: Mapping[str, Path | None]) -> Mapping[str, str]:
    """Text of each sheet by the name of its setting; what is neither named nor settled is left out. Raises NoBook, NoFile."""
    from waney.cli.books import lies_at
    from waney.cli.files import read_text
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings

    files = {what: read_text(file) for what, file in named.items() if file is not None}
    if yard is None:
        return files
    book = open_book(lies_at(yard, None))
    try:
        return {**settings(book), **files}
    finally:
        book.close()


def record_in(yard: str | None) -> Record:
    """The own record of a yard that was named; nothing for none. Raises NoBook, SheetProblems."""
    from waney.cli.books import lies_at
    from waney.trade.record import Record
    from waney.yard.book.book import open_book
    from waney.yard.services.record import own_record

    if yard is None:
        return Record()
    book = open_book(lies_at(yard, None))
    try:
        return own_record(book)
    finally:
        book.close()
