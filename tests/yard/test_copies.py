"""Copies: the original is destroyed, and what is restored is the same book."""

from __future__ import annotations

import csv
import json
import random
import shutil
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import pytest

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import Moved, PhotoTaken, Weighed
from waney.yard.book.book import Book, open_book
from waney.yard.book.copies import back_up, export, restore
from waney.yard.book.copy_parts import EVENTS, HEAD
from waney.yard.book.engine import Lies, by_address, in_folder, reading, writing
from waney.yard.book.examining import examine
from waney.yard.book.migrating import NEWEST
from waney.yard.book.models import MODELS
from waney.yard.book.replaying import Standing, standing
from waney.yard.problems import BadCopy, BookFull, BookNewer, BookProblem, BookThere, NoBook

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


def test_the_events_in_a_backup_are_packed(book: Book, phone: Device, tmp_path: Path) -> None:
    for _ in range(30):
        phone.send(LogArrived(phone.ids(), "sheet " * 50, "ash"))
    back_up(book, tmp_path / "copy.zip")
    with zipfile.ZipFile(tmp_path / "copy.zip") as copy:
        assert copy.getinfo(EVENTS).compress_size < 0.3 * copy.getinfo(EVENTS).file_size


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


# copies that nobody should trust


def rewritten(copy: Path, parts: dict[str, bytes | None]) -> Path:
    """A backup with other parts, whose head says of the events what they are; None: without it."""
    other = copy.with_name(f"rewritten {len(list(copy.parent.iterdir()))}.zip")
    with zipfile.ZipFile(copy) as source:
        held: dict[str, bytes | None] = {name: source.read(name) for name in source.namelist()}
    held |= parts
    head, events = held[HEAD], held[EVENTS]
    if HEAD not in parts and head is not None and events is not None:
        held[HEAD] = json.dumps(json.loads(head) | {"sha256": sha256(events).hexdigest()}).encode()
    with zipfile.ZipFile(other, "w", zipfile.ZIP_DEFLATED) as out:
        for name, content in held.items():
            if content is not None:
                out.writestr(name, content)
    return other


def nothing_there(lies: Lies) -> bool:
    with pytest.raises(NoBook):
        open_book(lies)
    return not lies.files.exists() or not any(lies.files.iterdir())


@pytest.mark.parametrize(
    "name", ["../over.txt", "files/../../over.txt", "/over.txt", "files/ab/..\\..\\over.txt", "C:\\over.txt"]
)
def test_a_backup_with_places_outside_its_folder_is_not_restored(
    filled: Book, tmp_path: Path, elsewhere: Lies, name: str
) -> None:
    back_up(filled, tmp_path / "copy.zip")
    with pytest.raises(BadCopy, match="outside its own folder"):
        restore(rewritten(tmp_path / "copy.zip", {name: b"over"}), elsewhere, NOW)
    assert nothing_there(elsewhere)
    assert not list(tmp_path.parent.rglob("over.txt"))


def test_an_export_with_a_link_that_leads_out_of_it_is_not_restored(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    export(filled, tmp_path / "plain")
    secret = tmp_path / "secret"
    secret.write_bytes(b"nobody's business")
    inside = tmp_path / "plain" / "files" / "ab"
    inside.mkdir(exist_ok=True)
    (inside / f"ab{'0' * 62}").symlink_to(secret)
    with pytest.raises(BadCopy, match="a link to a place outside"):
        restore(tmp_path / "plain", elsewhere, NOW)
    assert nothing_there(elsewhere)


@pytest.mark.parametrize("name", [HEAD, EVENTS, f"files/ab/ab{'0' * 62}"])
def test_a_backup_made_to_fill_the_disk_is_refused_before_anything_is_unpacked(
    filled: Book, tmp_path: Path, elsewhere: Lies, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    back_up(filled, tmp_path / "copy.zip")
    bomb = rewritten(tmp_path / "copy.zip", {name: bytes(70 << 20)})
    assert bomb.stat().st_size < 200_000
    monkeypatch.setattr(zipfile.ZipFile, "open", lambda *_args, **_words: pytest.fail("it was unpacked"))
    with pytest.raises(BadCopy, match="made to fill a disk"):
        restore(bomb, elsewhere, NOW)
    assert nothing_there(elsewhere)


def test_a_copy_for_which_there_is_no_room_is_refused_before_anything_is_written(
    filled: Book, tmp_path: Path, elsewhere: Lies, monkeypatch: pytest.MonkeyPatch
) -> None:
    back_up(filled, tmp_path / "copy.zip")
    monkeypatch.setattr("waney.yard.book.copies.shutil.disk_usage", lambda _folder: type("Disk", (), {"free": 100})())
    with pytest.raises(BookFull, match="there is room for"):
        restore(tmp_path / "copy.zip", elsewhere, NOW)
    assert nothing_there(elsewhere)


def test_a_damaged_file_leaves_none_of_those_before_it(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    back_up(filled, tmp_path / "copy.zip")
    last = f"files/ff/ff{'0' * 62}"
    with pytest.raises(BadCopy, match="damaged"):
        restore(rewritten(tmp_path / "copy.zip", {last: b"other"}), elsewhere, NOW)
    assert nothing_there(elsewhere)
    restore(tmp_path / "copy.zip", elsewhere, NOW)  # and the place is as good as new
    again = open_book(elsewhere)
    assert stands(again) == stands(filled)
    again.close()


def test_what_came_into_a_copy_by_the_way_does_not_matter(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    """An export that somebody packed, on a machine that leaves its own notes everywhere."""
    back_up(filled, tmp_path / "copy.zip")
    besides = {"files/": b"", "files/ab/": b"", ".DS_Store": b"x", "files/ab/.DS_Store": b"x", "piece.csv": b"id"}
    restore(rewritten(tmp_path / "copy.zip", besides), elsewhere, NOW)
    again = open_book(elsewhere)
    assert stands(again) == stands(filled)
    again.close()


def test_words_with_any_ends_of_lines_in_them_come_back(book: Book, phone: Device, tmp_path: Path, elsewhere: Lies) -> None:
    words = "".join(map(chr, (0x2028, 0x2029, 0x85, 0x0B, 0x0C, 0x1C, 0x1D, 0x1E)))
    phone.send(LogArrived(phone.ids(), f'species = "ash" # a{words}b\r\n', "ash"))
    back_up(book, tmp_path / "copy.zip")
    restore(tmp_path / "copy.zip", elsewhere, NOW)
    again = open_book(elsewhere)
    assert stands(again) == stands(book)
    again.close()


def test_a_copy_whose_events_are_broken_by_somebody_who_knows_the_form_is_a_sentence(
    filled: Book, tmp_path: Path, lies: Lies
) -> None:
    if lies.file is None:
        pytest.skip("reading a copy is the same whatever it is written into")
    back_up(filled, tmp_path / "copy.zip")
    with zipfile.ZipFile(tmp_path / "copy.zip") as source:
        told = [json.loads(line) for line in source.read(EVENTS).splitlines()]
    rng = random.Random(7)
    refused = 0
    for n in range(20):
        copy = json.loads(json.dumps(told))
        line = rng.choice(copy)
        at = line if rng.random() < 0.6 else line["body"]
        at[rng.choice(list(at))] = rng.choice([None, "", "x" * 40, -1, 10**30, 0.5, [], {}, True, "log:0", "2026-99-99"])
        events = "".join(json.dumps(each) + "\n" for each in copy).encode()
        broken, there = rewritten(tmp_path / "copy.zip", {EVENTS: events}), in_folder(tmp_path / f"new {n}")
        with suppress(BookProblem):
            restore(broken, there, NOW)
            continue
        assert nothing_there(there)
        refused += 1
    assert refused > 10


@pytest.mark.parametrize("parts", [{EVENTS: None}, {HEAD: None}, {HEAD: b"\xff"}, {HEAD: b"[" * 100_000}, {EVENTS: b"\xff\n"}])
def test_a_copy_without_its_first_page_or_its_events_is_a_sentence(
    filled: Book, tmp_path: Path, elsewhere: Lies, parts: dict[str, bytes | None]
) -> None:
    back_up(filled, tmp_path / "copy.zip")
    with pytest.raises(BadCopy):
        restore(rewritten(tmp_path / "copy.zip", parts), elsewhere, NOW)
    assert nothing_there(elsewhere)


def test_a_locked_backup_and_one_damaged_inside_are_sentences(filled: Book, tmp_path: Path, elsewhere: Lies) -> None:
    back_up(filled, tmp_path / "copy.zip")
    content = bytearray((tmp_path / "copy.zip").read_bytes())
    names = content.index(b"PK\x01\x02")
    locked, hurt = bytearray(content), bytearray(content)
    for start in range(names, len(locked) - 46):
        if locked[start : start + 4] == b"PK\x01\x02":
            locked[start + 8] |= 1  # "encrypted", in the list of parts
    for place in range(40, names, 97):
        hurt[place] ^= 0xFF
    for n, broken in enumerate((locked, hurt)):
        (tmp_path / f"{n}.zip").write_bytes(broken)
        with pytest.raises(BadCopy):
            restore(tmp_path / f"{n}.zip", elsewhere, NOW)
        assert nothing_there(elsewhere)


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
