"""Files of the book: photos, scans, plans, each under the name of its SHA-256. Half-written ones never have such a name."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from errno import EDQUOT, ENOSPC
from hashlib import sha256
from pathlib import Path

from waney.yard.acts.base import SHA256
from waney.yard.problems import BadCopy, BookFull, FileLost

HALF = "half-written-"
PIECE = 1 << 20


def name_of(content: bytes) -> str:
    """The name of a file."""
    return sha256(content).hexdigest()


@dataclass(frozen=True)
class Files:
    """A folder of files by content."""

    folder: Path

    def keep(self, content: bytes) -> str:
        """Keep a file for good; its SHA-256. Kept once however often it is sent. Raises BookFull: then it is not there."""
        name = name_of(content)
        if not self.has(name):
            self._write(name, [content])
        return name

    @contextmanager
    def all_or_none(self) -> Iterator[Callable[[str, Iterable[bytes]], None]]:
        """Keep files that come piece by piece, each under the name that it should have; if anything fails, none of them is there.

        Raises BadCopy for one that is not what its name says, BookFull.
        """
        new: list[Path] = []

        def keep(name: str, pieces: Iterable[bytes]) -> None:
            if not self.has(name):
                new.append(self.path(name))
                self._write(name, pieces)

        try:
            yield keep
        except BaseException:
            for path in new:
                path.unlink(missing_ok=True)
            for folder in (*(path.parent for path in new), self.folder):
                with suppress(OSError):  # others' files are in it
                    folder.rmdir()
            raise

    def _write(self, name: str, pieces: Iterable[bytes]) -> None:
        """Write beside, flush to the disk, then rename: all of it, or nothing. Raises BadCopy, BookFull."""
        path = self.path(name)
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, half = tempfile.mkstemp(prefix=HALF, dir=self.folder)
        told = sha256()
        try:
            with _told_when_full(), os.fdopen(handle, "wb") as out:
                for piece in pieces:
                    told.update(piece)
                    out.write(piece)
                out.flush()
                os.fsync(out.fileno())
            if told.hexdigest() != name:
                raise BadCopy(f"The file {name} in this copy was changed or damaged; take another copy.")
            os.replace(half, path)
        except BaseException:
            Path(half).unlink(missing_ok=True)
            raise
        _flush_folder(path.parent)

    def read(self, name: str) -> bytes:
        """The content of a file, held against its name. Raises FileLost."""
        try:
            content = self.path(name).read_bytes()
        except FileNotFoundError:
            raise FileLost(f"The file {name} of the book is missing; a backup may hold it.") from None
        if name_of(content) != name:
            raise FileLost(f"The file {name} of the book was changed or damaged; a backup may hold it.")
        return content

    def has(self, name: str) -> bool:
        """Whether a whole file of this name is there."""
        return self.path(name).is_file()

    def path(self, name: str) -> Path:
        """Where a file lies or would lie. Raises FileLost for what is no name of a file."""
        if not SHA256.fullmatch(name):
            raise FileLost(f'"{name[:70]}" is no name of a file of the book.')
        return self.folder / name[:2] / name

    def names(self) -> Iterator[str]:
        """Every whole file, in order."""
        return iter(sorted(path.name for path in self.folder.glob("??/*") if SHA256.fullmatch(path.name)))

    def sound(self, name: str) -> bool:
        """Whether a file is what its name says, read piece by piece."""
        told = sha256()
        with self.path(name).open("rb") as content:
            while part := content.read(PIECE):
                told.update(part)
        return told.hexdigest() == name

    def sweep(self) -> int:
        """Take away what was never finished; how many. Only while nobody else writes."""
        halves = list(self.folder.glob(f"{HALF}*"))
        for half in halves:
            half.unlink(missing_ok=True)
        return len(halves)


@contextmanager
def _told_when_full() -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        if fault.errno in (ENOSPC, EDQUOT):
            raise BookFull(
                "There is no room left for this file: it was not kept. Make room on the disk, then send it again."
            ) from fault
        raise


def _flush_folder(folder: Path) -> None:
    """The new name is on the disk too, where the system can promise it."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
