"""Settled: the sheets a command works with: files that were named, else the settings of a yard that was named."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

if TYPE_CHECKING:
    from waney.trade.record import Record
    from waney.yard.book.book import Book

Read = TypeVar("Read")
InYard = Annotated[
    str | None,
    typer.Option("--yard", metavar="<folder|address>", help="A yard: its logs by their names, and its settled sheets."),
]


def settled_in(yard: str | None, named: Mapping[str, Path | None]) -> Mapping[str, str]:
    """Text of each sheet by the name of its setting; what is neither named nor settled is left out. Raises NoBook, NoFile."""
    from waney.cli.files import read_text
    from waney.yard.book.looking import settings

    files = {what: read_text(file) for what, file in named.items() if file is not None}
    return files if yard is None else {**_read(yard, settings), **files}


def log_in(yard: str | None, log: Path) -> dict[str, str]:
    """A log sheet with its scan, as plans keep them: the file of that name, or in a yard the log that bears it.

    Raises NoBook, BadName, SheetProblems, OSError.
    """
    from waney.cli.files import log_sheets

    return log_sheets(log) if yard is None or log.is_file() else _read(yard, partial(_log_called, str(log)))


def _log_called(name: str, book: Book) -> dict[str, str]:
    from waney.yard.book.looking import named
    from waney.yard.problems import NotInBook
    from waney.yard.services.logs import sheets_of

    kind, _, ident = (named(book, name) or "").partition(":")
    if kind != "log":
        what = "is a piece and no log" if kind else "is no log of this yard"
        raise NotInBook(f"{name} {what}; name a log as its tag does, or a log sheet.")
    return sheets_of(book, ident)


def record_in(yard: str | None) -> Record:
    """What the sawing of a yard that was named says; nothing for none. Raises NoBook, SheetProblems."""
    from waney.trade.record import Record
    from waney.yard.services.record import sawing_record

    return Record() if yard is None else _read(yard, sawing_record)


def record_for_offers(yard: str | None) -> Record:
    """Of that record what an offered tree is valued by; no sheet is read for it. Raises NoBook."""
    from waney.trade.record import Record
    from waney.yard.services.record import drying_and_sales

    return Record() if yard is None else _read(yard, drying_and_sales)


def _read(yard: str, look: Callable[[Book], Read]) -> Read:
    from waney.cli.books import lies_at
    from waney.yard.book.book import open_book

    files = os.environ.get("WANEY_FILES") if "://" in yard else None  # these commands have no option for it
    book = open_book(lies_at(yard, Path(files) if files else None))
    try:
        return look(book)
    finally:
        book.close()
