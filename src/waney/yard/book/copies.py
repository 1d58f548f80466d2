"""Copies of a book: a backup in one file, an export in a folder, and a new book out of either.

Both hold book.json, events.jsonl and files/; what reads them knows nothing of the database that the book lay in.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from hashlib import sha256
from importlib.resources import files as packaged
from itertools import islice
from pathlib import Path
from typing import Protocol

from sqlalchemy import Connection, insert, select, update
from sqlalchemy.exc import DataError, IntegrityError

from waney import __version__
from waney.figures.typed_json import BadJson, Decoder, parsed, shown
from waney.yard.book import models, truth
from waney.yard.book.book import Book, new_book
from waney.yard.book.copy_parts import EVENTS, FILE, FILES, HEAD, Parts, lines, opened, whole
from waney.yard.book.engine import Lies, reading, told_plainly
from waney.yard.book.migrating import NEWEST, revisions
from waney.yard.book.replaying import AT_A_TIME, events, read_anew
from waney.yard.book.truth import Event, packed
from waney.yard.problems import BadCopy, BookFull, BookNewer, BookThere, FileLost

FORMAT = "waney-book/1"
COUNTED = ("seq", "number", "count", "form")
"""what of an event is a whole number; all else is text"""


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
        with told_plainly(), zipfile.ZipFile(half, "w", allowZip64=True) as archive:
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
    """Events are packed; photos and scans cost more to pack than it gives."""

    def put(name: str, content: Iterator[bytes]) -> None:
        info = zipfile.ZipInfo(name)
        info.compress_type = zipfile.ZIP_DEFLATED if name == EVENTS else zipfile.ZIP_STORED
        with archive.open(info, "w", force_zip64=True) as part:
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


def restore(path: Path, lies: Lies, now: datetime) -> Copied:
    """A new book out of a backup or an export. Raises BadCopy, BookNewer, BookThere, BookFull; then nothing of it is there."""
    with opened(path) as parts:
        sizes = parts.sizes()
        head = _head(parts)
        with _unless_it_contradicts_itself(), new_book(lies, now) as (at, files):
            _see_that_there_is_room(sum(sizes.values()), lies.files)
            kept = {found[2]: part for part in sizes if (found := FILE.fullmatch(part))}
            with files.all_or_none() as keep:
                for name, part in kept.items():
                    keep(name, parts.pieces(part))
                count, named = _fill(at, head, _events(parts, head))
        return Copied(count, len(kept), tuple(sorted(name for name in named if not files.has(name))))


def _see_that_there_is_room(needed: int, files: Path) -> None:
    there = next(folder for folder in (files, *files.absolute().parents) if folder.is_dir())
    free = shutil.disk_usage(there).free
    if needed > free:
        raise BookFull(
            f"This copy unpacks to {needed / 1e6:.4g} MB and there is room for {free / 1e6:.4g} MB: nothing was restored. "
            "Make room on the disk, or name a folder on another."
        )


@contextmanager
def _unless_it_contradicts_itself() -> Iterator[None]:
    """What each event of a broken copy may be by itself, and all of them cannot be."""
    try:
        yield
    except (IntegrityError, DataError):
        raise BadCopy(f"The events in {EVENTS} of this copy contradict each other; take another copy.") from None


def _fill(at: Connection, head: Head, told: Iterator[Event]) -> tuple[int, set[str]]:
    """Write the events and what they give; how many, and the files they name."""
    count = 0
    while some := list(islice(told, AT_A_TIME)):
        at.execute(insert(truth.event), [event._asdict() for event in some])
        count += len(some)
    read_anew(at).write(at)
    at.execute(update(truth.book).values(last_seq=count, made_at=head.made_at))
    return count, set(at.execute(select(models.file.c.sha256)).scalars())


def _head(parts: Parts) -> Head:
    try:
        head: Head = Decoder().decode(parsed(whole(parts, HEAD).decode("utf-8")), Head, HEAD)
    except (BadCopy, UnicodeDecodeError, BadJson) as fault:
        raise BadCopy(f"This is no copy of a yard book: its first page, {HEAD}, cannot be read ({fault}).") from None
    if head.format != FORMAT or head.revision not in revisions():
        raise BookNewer(f"This copy was written by Waney {head.written_by}, which is newer; use that version or a later one.")
    return head


def _events(parts: Parts, head: Head) -> Iterator[Event]:
    """The events of a copy, in order and without a gap, held against the head's fingerprint at the end."""
    told = sha256()
    for place, line in enumerate(lines(parts.pieces(EVENTS)), 1):
        told.update(line)
        event = _event(line, place)
        if event.seq != place:
            raise BadCopy(f"Line {place} of {EVENTS} holds event {event.seq}; events follow each other without a gap.")
        yield event
    if told.hexdigest() != head.sha256:
        raise BadCopy(f"{EVENTS} in this copy was changed or damaged; take another copy.")


def _event(line: bytes, place: int) -> Event:
    try:
        data = parsed(line.decode("utf-8"))
        event = Event(**data | {"body": packed(data["body"]), "read": packed(data["read"])})
    except (BadJson, UnicodeDecodeError, TypeError, KeyError) as fault:
        raise BadCopy(f"Line {place} of {EVENTS} holds no event: {fault}.") from None
    wrong = [name for name, value in event._asdict().items() if type(value) is not (int if name in COUNTED else str)]
    if wrong:
        raise BadCopy(f"Line {place} of {EVENTS} holds no event: {wrong[0]} cannot be {shown(getattr(event, wrong[0]))}.")
    return event
