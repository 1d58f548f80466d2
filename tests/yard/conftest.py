"""Books to try things on: a fresh one for each test, and a device that sends acts."""

from __future__ import annotations

import itertools
import os
import random
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest
from sqlalchemy import create_engine

from waney.yard.acts.every import Act
from waney.yard.book.book import Answer, Book, make_book, open_book
from waney.yard.book.engine import Lies, by_address, in_folder
from waney.yard.commands import Command, Read

NOW = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
HAPPENED = "2026-05-04T09:12:30+02:00"
SERVER = "WANEY_POSTGRESQL"
"""Address of a PostgreSQL server for tests; `dev.py check` starts one."""


class Ids:
    """Ids that are random and yet the same in every run."""

    def __init__(self, seed: object) -> None:
        self._random = random.Random(str(seed))

    def __call__(self) -> str:
        return str(UUID(int=self._random.getrandbits(128), version=4))


class Device:
    """A phone: it counts its commands and remembers the last."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.book, self.ids, self.id = book, ids, ids()
        self.count = 0

    def command(self, act: Act, *read: Read) -> Command:
        self.count += 1
        return Command(self.ids(), self.id, self.count, "", HAPPENED, act, read)

    def send(self, act: Act, *read: Read) -> Answer:
        return self.book.send(self.command(act, *read), NOW)


@pytest.fixture
def ids(request: pytest.FixtureRequest) -> Ids:
    return Ids(request.node.name)


@pytest.fixture(scope="session")
def empty_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty book that others are copied from: making one takes a quarter of a second."""
    folder = tmp_path_factory.mktemp("empty")
    make_book(in_folder(folder), NOW).close()
    return folder


def fresh_copy(empty: Path, folder: Path) -> Lies:
    shutil.copytree(empty, folder, dirs_exist_ok=True)
    return in_folder(folder)


schemas = itertools.count()


@pytest.fixture(params=["sqlite", "postgresql"])
def lies(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Lies]:
    """Where an empty book lies, in SQLite and, where there is a server for tests, in PostgreSQL."""
    if request.param == "sqlite":
        yield fresh_copy(request.getfixturevalue("empty_book"), tmp_path / "yard")
        return
    address, drop = new_schema()
    found = by_address(address, tmp_path / "files")
    make_book(found, NOW).close()
    yield found
    drop()


def new_schema() -> tuple[str, Callable[[], None]]:
    """A schema of its own on the server for tests, and how to take it away."""
    server = os.environ.get(SERVER, "")
    if not server:
        pytest.skip(f"needs a PostgreSQL server ({SERVER}); python3 dev.py check starts one")
    name = f"yard_{os.getpid()}_{next(schemas)}"
    engine = create_engine(server.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as at:
        at.exec_driver_sql(f"CREATE SCHEMA {name}")

    def drop() -> None:
        with engine.begin() as at:
            at.exec_driver_sql(f"DROP SCHEMA {name} CASCADE")
        engine.dispose()

    return f"{server}?options=-csearch_path%3D{name}", drop


@pytest.fixture
def book(lies: Lies) -> Iterator[Book]:
    found = open_book(lies)
    yield found
    found.close()


@pytest.fixture
def phone(book: Book, ids: Ids) -> Device:
    return Device(book, ids)


@pytest.fixture
def laptop(book: Book, ids: Ids) -> Device:
    return Device(book, ids)
