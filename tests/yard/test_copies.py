"""Copies: the original is destroyed, and what is restored is the same book."""

from __future__ import annotations

import csv
import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import Moved, PhotoTaken, Weighed
from waney.yard.book.book import Book, open_book
from waney.yard.book.copies import HEAD, back_up, export, restore
from waney.yard.book.engine import Lies, by_address, in_folder, reading, writing
from waney.yard.book.examining import examine
from waney.yard.book.migrating import NEWEST
from waney.yard.book.models import MODELS
from waney.yard.book.replaying import Standing, standing
from waney.yard.problems import BadCopy, BookNewer, BookThere, NoBook

from .conftest import NOW, Device, Ids, fresh_copy, new_schema


@pytest.fixture
def filled(book: Book, phone: Device) -> Book:
    """A book with a log, pieces, two photos, and a fact that still waits."""
    log, piece = phone.ids(), phone.ids()
    phone.send(LogArrived(log, 'species = "Walnuß"\n', "walnut", scan=book.files.keep(b"points")))
    phone.send(CameOff(piece, log=log, thickness_m=0.1 + 0.2, widths_m=(0.3, 1 / 3)))
    phone.send(PhotoTaken(phone.ids(), book.files.keep(b"wet picture"), f"log:{log}", wet=True))
    phone.send(Weighed(f"piece:{piece}", 41.25))
    phone.send(Moved(f"piece:{piece}", phone.ids()))
    return book


@pytest.fixture
def elsewhere(lies: Lies, tmp_path: Path) -> Iterator[Lies]:
    """A place for another book, in the same kind of database."""
    if lies.file is not None:
        yield in_folder(tmp_path / "new")
        return
    address, drop = new_schema()
    yield by_address(address, tmp_path / "new files")
    drop()


def stands(book: Book) -> Standing:
    with reading(book.engine) as at:
        return standing(at)


@pytest.mark.parametrize("how", [back_up, export])
def test_a_copy_restored_after_the_original_is_gone_is_the_same_book(
    filled: Book, tmp_path: Path, elsewhere: Lies, ids: Ids, how: object
) -> None:
    before, copy = stands(filled), tmp_path / "copy"
    copied = how(filled, copy)  # type: ignore[operator]
    shutil.rmtree(filled.files.folder)
    assert (copied.events, copied.files, copied.missing) == (5, 2, ())
    assert restore(copy, elsewhere, NOW) == copied
    again = open_book(elsewhere)
    assert stands(again) == before and again.files.read(next(again.files.names()))
    assert examine(again).unsound == ()
    Device(again, ids).send(LogArrived(ids(), "sheet", "ash"))
    again.close()


def test_what_was_backed_up_from_one_database_is_restored_into_another(filled: Book, tmp_path: Path) -> None:
    """SQLite into SQLite, and PostgreSQL into SQLite; rows are the same to the last digit."""
    back_up(filled, tmp_path / "copy.zip")
    restore(tmp_path / "copy.zip", in_folder(tmp_path / "new"), NOW)
    again = open_book(in_folder(tmp_path / "new"))
    assert stands(again) == stands(filled)
    again.close()


def test_an_export_is_plain_and_says_what_is_what(filled: Book, tmp_path: Path) -> None:
    folder = tmp_path / "plain"
    export(filled, folder)
    lines = (folder / "events.jsonl").read_text("utf-8").splitlines()
    assert [json.loads(line)["seq"] for line in lines] == [1, 2, 3, 4, 5]
    assert json.loads(lines[0])["body"]["sheet"] == 'species = "Walnuß"\n'
    for table in MODELS.tables:
        with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as rows:
            assert len(list(csv.DictReader(rows))) == len(stands(filled)[table])
    readme = (folder / "README.md").read_text("utf-8")
    assert all(word in readme for word in ("events.jsonl", *json.loads(lines[0])))


def test_a_file_that_is_missing_or_damaged_is_named(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    lost, hurt = filled.files.names()
    filled.files.path(lost).unlink()
    filled.files.path(hurt).write_bytes(b"other")
    assert back_up(filled, tmp_path / "copy.zip").missing == (lost, hurt)
    assert restore(tmp_path / "copy.zip", elsewhere, NOW).missing == (lost, hurt)
    told = examine(filled).unsound
    assert any(lost in each and "missing" in each for each in told) and any(hurt in each and "damaged" in each for each in told)


def changed(copy: Path, name: str, old: bytes, new: bytes) -> Path:
    """A backup in which one part was changed."""
    other = copy.with_name("changed.zip")
    with zipfile.ZipFile(copy) as source, zipfile.ZipFile(other, "w") as out:
        for part in source.namelist():
            content = source.read(part)
            assert part != name or old in content
            out.writestr(part, content.replace(old, new) if part == name else content)
    return other


@pytest.mark.parametrize(
    ("name", "old", "new", "problem"),
    [
        ("events.jsonl", b"walnut", b"cherry", BadCopy),
        ("events.jsonl", b"\n", b"", BadCopy),
        (HEAD, b"waney-book/1", b"waney-book/9", BookNewer),
        (HEAD, f'"{NEWEST}"'.encode(), b'"0999"', BookNewer),
        (HEAD, b"format", b"form", BadCopy),
    ],
)
def test_a_copy_that_was_changed_makes_no_book(
    filled: Book, tmp_path: Path, elsewhere: Lies, name: str, old: bytes, new: bytes, problem: type[Exception]
) -> None:
    back_up(filled, tmp_path / "copy.zip")
    with pytest.raises(problem):
        restore(changed(tmp_path / "copy.zip", name, old, new), elsewhere, NOW)
    with pytest.raises(NoBook):
        open_book(elsewhere)


def test_a_changed_picture_in_a_copy_makes_no_book(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    back_up(filled, tmp_path / "copy.zip")
    with zipfile.ZipFile(tmp_path / "copy.zip") as source:
        [picture] = [part for part in source.namelist() if source.read(part) == b"wet picture"]
    with pytest.raises(BadCopy, match="damaged"):
        restore(changed(tmp_path / "copy.zip", picture, b"wet", b"dry"), elsewhere, NOW)
    with pytest.raises(NoBook):
        open_book(elsewhere)


def test_a_backup_that_was_cut_off_is_no_backup(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    back_up(filled, tmp_path / "copy.zip")
    whole = (tmp_path / "copy.zip").read_bytes()
    (tmp_path / "copy.zip").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(BadCopy, match="cut off"):
        restore(tmp_path / "copy.zip", elsewhere, NOW)


def test_nothing_is_written_over(filled: Book, lies: Lies, tmp_path: Path) -> None:
    back_up(filled, tmp_path / "copy.zip")
    with pytest.raises(BookThere):
        back_up(filled, tmp_path / "copy.zip")
    with pytest.raises(BookThere):
        export(filled, tmp_path)
    with pytest.raises(BookThere):
        restore(tmp_path / "copy.zip", lies, NOW)
    assert len(stands(filled)["touched"]) > 5


def test_what_was_changed_behind_the_book_s_back_is_found(filled: Book) -> None:
    assert examine(filled).unsound == ()
    with writing(filled.engine) as at:
        at.exec_driver_sql("UPDATE piece SET thickness_m = 0.5")
    [told] = examine(filled).unsound
    assert told.startswith("piece: 2 rows are not what the events say")


def test_a_page_of_the_book_that_was_overwritten_is_found(empty_book: Path, tmp_path: Path, ids: Ids) -> None:
    lies = fresh_copy(empty_book, tmp_path / "yard")
    book = open_book(lies)
    phone = Device(book, ids)
    for _ in range(200):
        phone.send(LogArrived(ids(), "sheet " * 50, "ash"))
    with book.engine.connect() as at:
        at.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    book.close()
    assert lies.file is not None
    content = bytearray(lies.file.read_bytes())
    place = content.rindex(b"sheet sheet") & ~4095
    content[place : place + 64] = bytes(64)
    lies.file.write_bytes(content)
    hurt = open_book(lies)
    assert any("damaged" in each for each in examine(hurt).unsound)
    hurt.close()
