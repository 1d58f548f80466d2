"""Copies of a book: a backup in one file, an export in a folder, and a new book out of either.

Both hold book.json, events.jsonl and files/; what reads them knows nothing of the database that the book lay in.
"""

from __future__ import annotations

import csv
import json
import os
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from hashlib import sha256
from importlib.resources import files as packaged
from pathlib import Path
from typing import Protocol

from sqlalchemy import Connection, insert, select, update

from waney import __version__
from waney.figures.typed_json import BadJson, Decoder, parsed
from waney.yard.book import models, truth
from waney.yard.book.book import Book, new_book
from waney.yard.book.engine import Lies, reading, told_plainly
from waney.yard.book.files import Files
from waney.yard.book.migrating import NEWEST, revisions
from waney.yard.book.replaying import AT_A_TIME, events, read_anew
from waney.yard.book.truth import Event, packed
from waney.yard.problems import BadCopy, BookNewer, BookThere, FileLost

FORMAT = "waney-book/1"
HEAD, EVENTS, FILES = "book.json", "events.jsonl", "files"


@dataclass(frozen=True)
class Head:
    """The first page of a copy. sha256: of events.jsonl."""

    format: str
    revision: str
    written_by: str
    made_at: str
    events: int
    sha256: str


@dataclass(frozen=True)
class Copied:
    """What a copy holds. missing: files that the book names and does not have, or that are damaged."""

    events: int
    files: int
    missing: tuple[str, ...]


class Put(Protocol):
    """Takes a part of a copy: its name and its content, in pieces."""

    def __call__(self, name: str, content: Iterator[bytes]) -> None:
        """Keep it."""


# out


def back_up(book: Book, path: Path) -> Copied:
    """A copy in one file, which is there whole or not at all. Raises BookThere for a name that is taken, BookFull."""
    if path.exists():
        raise BookThere(f"{path} is there already; name a new file.")
    half = path.with_name(f"{path.name}.half")
    try:
        with told_plainly(), zipfile.ZipFile(half, "w", zipfile.ZIP_DEFLATED, allowZip64=True) as archive:
            copied = _copy(book, _into_zip(archive))
        with half.open("rb+") as whole:
            os.fsync(whole.fileno())
        os.replace(half, path)
    finally:
        half.unlink(missing_ok=True)
    return copied


def export(book: Book, folder: Path) -> Copied:
    """A copy in a new folder, with every read model as CSV beside it. Raises BookThere for a folder with something in it."""
    if folder.exists() and any(folder.iterdir()):
        raise BookThere(f"{folder} holds something already; name a new folder.")
    folder.mkdir(parents=True, exist_ok=True)
    copied = _copy(book, _into_folder(folder))
    with reading(book.engine) as at:
        for table in models.MODELS.sorted_tables:
            with (folder / f"{table.name}.csv").open("w", newline="", encoding="utf-8") as out:
                writer = csv.writer(out)
                writer.writerow(table.c.keys())
                writer.writerows(at.execute(select(table).order_by(*table.primary_key)))
    (folder / "README.md").write_text((packaged("waney") / "data" / "export-readme.md").read_text("utf-8"), encoding="utf-8")
    return copied


def _copy(book: Book, put: Put) -> Copied:
    count, told = 0, sha256()

    def lines(at: Connection) -> Iterator[bytes]:
        nonlocal count
        for event in events(at):
            line = (_line(event) + "\n").encode("utf-8")
            told.update(line)
            count += 1
            yield line

    with reading(book.engine) as at:
        made_at = at.execute(select(truth.book.c.made_at)).scalar_one()
        put(EVENTS, lines(at))
        named = set(at.execute(select(models.file.c.sha256)).scalars())
    kept, missing = 0, []
    for name in sorted({*book.files.names(), *named}):
        try:
            put(f"{FILES}/{name[:2]}/{name}", iter([book.files.read(name)]))
            kept += 1
        except FileLost:
            missing.append(name)
    head = Head(FORMAT, NEWEST, __version__, made_at, count, told.hexdigest())
    put(HEAD, iter([json.dumps(asdict(head), indent=1).encode("utf-8")]))
    return Copied(count, kept, tuple(missing))


def _line(event: Event) -> str:
    """An event as one line; body and read are written as what they are."""
    return packed(event._asdict() | {"body": json.loads(event.body), "read": json.loads(event.read)})


def _into_zip(archive: zipfile.ZipFile) -> Put:
    def put(name: str, content: Iterator[bytes]) -> None:
        with archive.open(zipfile.ZipInfo(name), "w", force_zip64=True) as part:
            for some in content:
                part.write(some)

    return put


def _into_folder(folder: Path) -> Put:
    def put(name: str, content: Iterator[bytes]) -> None:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("wb") as part:
            for some in content:
                part.write(some)

    return put


# in


class Source(Protocol):
    """A copy that is read: parts by their names."""

    def names(self) -> list[str]:
        """Every part."""

    def read(self, name: str) -> bytes:
        """A part. Raises KeyError or FileNotFoundError."""


def restore(path: Path, lies: Lies, now: datetime) -> Copied:
    """A new book out of a backup or an export. Raises BadCopy, BookNewer, BookThere; then no book is there."""
    with _opened(path) as source:
        head, told = _head(source), _events(source)
        with new_book(lies, now) as (at, files):
            kept = sum(_keep(files, name, source.read(name)) for name in source.names() if name.startswith(f"{FILES}/"))
            named = _fill(at, head, told)
        return Copied(len(told), kept, tuple(sorted(name for name in named if not files.has(name))))


def _fill(at: Connection, head: Head, told: list[Event]) -> set[str]:
    """Write the events and what they give; the files they name."""
    for start in range(0, len(told), AT_A_TIME):
        at.execute(insert(truth.event), [event._asdict() for event in told[start : start + AT_A_TIME]])
    read_anew(at).write(at)
    at.execute(update(truth.book).values(last_seq=len(told), made_at=head.made_at))
    return set(at.execute(select(models.file.c.sha256)).scalars())


def _keep(files: Files, name: str, content: bytes) -> int:
    """Keep a file that is what its name says."""
    if sha256(content).hexdigest() != name.rpartition("/")[2]:
        raise BadCopy(f"{name} in this copy was changed or damaged; take another copy.")
    files.keep(content)
    return 1


def _head(source: Source) -> Head:
    try:
        head: Head = Decoder().decode(parsed(source.read(HEAD).decode("utf-8")), Head, HEAD)
    except (KeyError, FileNotFoundError, UnicodeDecodeError, BadJson) as fault:
        raise BadCopy(f"This is no copy of a yard book: its first page, {HEAD}, cannot be read ({fault}).") from None
    if head.format != FORMAT or head.revision not in revisions():
        raise BookNewer(f"This copy was written by Waney {head.written_by}, which is newer; use that version or a later one.")
    if sha256(source.read(EVENTS)).hexdigest() != head.sha256:
        raise BadCopy(f"{EVENTS} in this copy was changed or damaged; take another copy.")
    return head


def _events(source: Source) -> list[Event]:
    """The events of a copy, in order and without a gap."""
    told = [_event(line, place) for place, line in enumerate(source.read(EVENTS).decode("utf-8").splitlines(), 1)]
    for place, event in enumerate(told, 1):
        if event.seq != place:
            raise BadCopy(f"Line {place} of {EVENTS} holds event {event.seq}; events follow each other without a gap.")
    return told


def _event(line: str, place: int) -> Event:
    try:
        data = parsed(line)
        return Event(**data | {"body": packed(data["body"]), "read": packed(data["read"])})
    except (BadJson, TypeError, KeyError) as fault:
        raise BadCopy(f"Line {place} of {EVENTS} holds no event: {fault}.") from None


@dataclass(frozen=True)
class _Folder:
    folder: Path

    def names(self) -> list[str]:
        found = (path for path in self.folder.rglob("*") if path.is_file())
        return sorted(path.relative_to(self.folder).as_posix() for path in found)

    def read(self, name: str) -> bytes:
        return (self.folder / name).read_bytes()


@dataclass(frozen=True)
class _Zip:
    archive: zipfile.ZipFile

    def names(self) -> list[str]:
        return self.archive.namelist()

    def read(self, name: str) -> bytes:
        return self.archive.read(name)


@contextmanager
def _opened(path: Path) -> Iterator[Source]:
    if path.is_dir():
        yield _Folder(path)
        return
    if not path.exists():
        raise BadCopy(f"{path} is not there; name a backup or the folder of an export.")
    try:
        with zipfile.ZipFile(path) as archive:
            yield _Zip(archive)
    except zipfile.BadZipFile:
        raise BadCopy(f"{path} is no backup, or was cut off; take another copy.") from None
