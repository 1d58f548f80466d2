"""Parts of a copy that is handed in, a backup or an export: read piece by piece, and nothing in it is trusted.

No part is written under the name that the copy gives it; still, a copy that names places outside its own folder is no copy of
ours and is not read at all. What would unpack to far more than it is, is refused before anything of it is unpacked.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Protocol

from waney.yard.problems import BadCopy

HEAD, EVENTS, FILES = "book.json", "events.jsonl", "files"
FILE = re.compile(rf"{FILES}/([0-9a-f]{{2}})/(\1[0-9a-f]{{62}})")
"""the name of a part that is a file of the book"""
PIECE = 1 << 20
LONGEST_LINE = 64 << 20
"""bytes of one event: a sheet, or the names of a stock count, is far below"""
FULL_OF_NOTHING = 200
LARGE = 64 << 20
"""a part larger than this that unpacks to so many times what it is; 200,000 drawn events pack to a fifth (`benchmarks/book.py`),
photos hardly, and nothing better than to a thousandth"""
FAULTS = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError, KeyError, OSError)
"""what reading a part of a broken, locked or strangely packed file ends in"""


class Parts(Protocol):
    """A copy that is read. Raises BadCopy for what cannot be."""

    def sizes(self) -> dict[str, int]:
        """Every part with its size [bytes]: the head, the events, the files of the book; nothing else is looked at."""

    def pieces(self, name: str) -> Iterator[bytes]:
        """A part, piece by piece."""


def whole(parts: Parts, name: str) -> bytes:
    """A small part."""
    return b"".join(parts.pieces(name))


def lines(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """Line by line, each with its end. Raises BadCopy for one that is longer than any event."""
    left = b""
    for piece in pieces:
        *ended, left = (left + piece).split(b"\n")
        yield from (line + b"\n" for line in ended)
        if len(left) > LONGEST_LINE:
            raise BadCopy(f"A line of {EVENTS} in this copy is longer than any event; take another copy.")
    if left:
        yield left


@contextmanager
def opened(path: Path) -> Iterator[Parts]:
    """A backup, or the folder of an export. Raises BadCopy."""
    if path.is_dir():
        yield _Folder(path)
        return
    if not path.exists():
        raise BadCopy(f"{path} is not there; name a backup or the folder of an export.")
    try:
        archive = zipfile.ZipFile(path)
    except (zipfile.BadZipFile, OSError, NotImplementedError):
        raise BadCopy(f"{path} is no backup, or was cut off; take another copy.") from None
    with archive:
        for name in archive.namelist():
            _stays_inside(name)
        yield _Zip(archive)


def _stays_inside(name: str) -> None:
    windows, posix = PureWindowsPath(name), PurePosixPath(name)
    if windows.drive or windows.root or posix.root or ".." in windows.parts:
        raise BadCopy(
            f'This copy holds a part for a place outside its own folder ("{name[:80]}"), as no copy of Waney does: not restored.'
        )


def _ours(name: str) -> bool:
    return name in (HEAD, EVENTS) or FILE.fullmatch(name) is not None


@dataclass(frozen=True)
class _Folder:
    folder: Path

    def sizes(self) -> dict[str, int]:
        found = (self.folder / HEAD, self.folder / EVENTS, *self.folder.glob(f"{FILES}/??/*"))
        parts = {path.relative_to(self.folder).as_posix(): path for path in sorted(found) if path.is_file()}
        return {name: self._inside(name, path).stat().st_size for name, path in parts.items() if _ours(name)}

    def _inside(self, name: str, path: Path) -> Path:
        """Where it lies really: a link may lead anywhere."""
        if not path.resolve().is_relative_to(self.folder.resolve()):
            raise BadCopy(
                f"{name} in this copy is a link to a place outside its own folder, as no copy of Waney does: not restored."
            )
        return path

    def pieces(self, name: str) -> Iterator[bytes]:
        try:
            with self._inside(name, self.folder / name).open("rb") as part:
                while piece := part.read(PIECE):
                    yield piece
        except FAULTS as fault:
            raise _unread(name, fault) from None


@dataclass(frozen=True)
class _Zip:
    archive: zipfile.ZipFile

    def sizes(self) -> dict[str, int]:
        parts = [info for info in self.archive.infolist() if _ours(info.filename)]
        for info in parts:
            if info.file_size > max(LARGE, FULL_OF_NOTHING * info.compress_size):
                packed, unpacked = (f"{size / 1e6:.3g} MB" for size in (info.compress_size, info.file_size))
                raise BadCopy(
                    f"{info.filename} in this copy would unpack from {packed} to {unpacked}: such a file is made to fill a disk. "
                    "Nothing was restored; take another copy."
                )
        return {info.filename: info.file_size for info in parts}

    def pieces(self, name: str) -> Iterator[bytes]:
        try:
            with self.archive.open(name) as part:
                while piece := part.read(PIECE):
                    yield piece
        except FAULTS as fault:
            raise _unread(name, fault) from None


def _unread(name: str, fault: Exception) -> BadCopy:
    why = "it is not there" if isinstance(fault, (KeyError, FileNotFoundError)) else str(fault) or "it ends too soon"
    return BadCopy(f"{name} in this copy cannot be read ({why}); take another copy.")
