"""Where a book lies and how it is reached: SQLite in a folder, or PostgreSQL by its address."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Select, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError, OperationalError

from waney.yard.problems import BookBusy, BookFull, BookProblem, NoBook

BOOK, FILES = "book.sqlite", "files"
WAITS_MS = 10_000
"""how long a writer stands in line"""
NO_ROOM = "There is no room left for the book: nothing was written. Make room on the disk, then do it again."
HELD = "Somebody else has been writing in the book for too long; nothing was written. Try again."
UNREACHED = "The server of the book cannot be reached; look whether it runs, and at the address, name and password."
FULL = ("SQLITE_FULL", "SQLITE_IOERR", "53100")
BUSY = ("SQLITE_BUSY", "SQLITE_LOCKED", "55P03")
"""SQLite's names and PostgreSQL's codes for a full disk, and for a book that somebody else holds"""


@dataclass(frozen=True)
class Lies:
    """The address of a book and the folder of its files."""

    url: str
    files: Path

    @property
    def file(self) -> Path | None:
        """The file of an SQLite book; None for another."""
        url = make_url(self.url)
        return Path(url.database) if url.get_backend_name() == "sqlite" and url.database else None


def in_folder(folder: Path) -> Lies:
    """A yard that is a folder."""
    return Lies(f"sqlite:///{folder / BOOK}", folder / FILES)


def by_address(url: str, files: Path) -> Lies:
    """A book on a server."""
    return Lies(url, files)


def engine_of(url: str) -> Engine:
    """The engine for an address; SQLite's transactions begin where they are told to. Raises BookProblem."""
    address = make_url(url)
    if address.get_backend_name() == "postgresql":
        return _postgresql(url)
    if address.get_backend_name() != "sqlite":
        raise BookProblem(f"A book lies in SQLite or PostgreSQL; {address.get_backend_name()} is neither.")
    engine = create_engine(url)
    event.listen(engine, "connect", _sqlite_connected)
    event.listen(engine, "begin", _sqlite_begins)
    return engine


def _postgresql(url: str) -> Engine:
    try:
        import psycopg  # noqa: F401 - it comes with the extra "postgres"
    except ImportError:
        raise BookProblem("A book in PostgreSQL needs the package psycopg; install waney[postgres].") from None
    return create_engine(make_url(url).set(drivername="postgresql+psycopg"))


def _sqlite_connected(connection: Any, _record: object) -> None:
    connection.isolation_level = None
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={WAITS_MS}"):
        connection.execute(f"PRAGMA {pragma}").close()


def _sqlite_begins(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """The one writing transaction; all of it stays, or nothing. Raises BookFull, BookBusy."""
    with told_plainly(), engine.execution_options(writes=True).begin() as connection:
        yield connection


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """A transaction that sees one state of the book, whoever writes meanwhile."""
    one_state = engine if engine.dialect.name == "sqlite" else engine.execution_options(isolation_level="REPEATABLE READ")
    with told_plainly(), one_state.connect() as connection, connection.begin():
        yield connection


@contextmanager
def told_plainly() -> Iterator[None]:
    """What the database cannot do for want of room or time, as a sentence."""
    try:
        yield
    except DBAPIError as fault:
        code = str(getattr(fault.orig, "sqlite_errorname", None) or getattr(fault.orig, "sqlstate", None) or "")
        if code.startswith(FULL):
            raise BookFull(NO_ROOM) from fault
        if code.startswith(BUSY):
            raise BookBusy(HELD) from fault
        if isinstance(fault, OperationalError) and not code and not hasattr(fault.orig, "sqlite_errorname"):
            raise NoBook(UNREACHED) from fault
        raise


def plain_rows(at: Connection, asked: Select[Any]) -> list[dict[str, Any]]:
    """Rows by the names of their columns; whoever asks each for many is answered faster than by a row of the library."""
    found = at.execute(asked)
    names = tuple(found.keys())
    return [dict(zip(names, row, strict=True)) for row in found]
