"""Older books are moved on, newer ones refused with a sentence."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
import zipfile
from hashlib import sha256
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import delete, inspect
from sqlalchemy.exc import DBAPIError
from sqlalchemy.schema import CreateTable

from waney.yard.acts.logs import LogArrived
from waney.yard.book import migrating, models, truth
from waney.yard.book.book import Book, open_book
from waney.yard.book.engine import Lies, in_folder, reading, writing
from waney.yard.book.examining import examine
from waney.yard.book.replaying import standing
from waney.yard.problems import BookNewer, NoBook

from .conftest import Device

ROOT = Path(__file__).parents[2]
FIRST = ROOT / "tests" / "data" / "yard-book-1.sql"
"""A book as version 1 wrote it: of 140 drawn commands the 100 that were not refused. It is never written anew."""
FORMS = {
    1: "103a30eab25673fb",
    2: "2838519c65e02469",
    3: "730a13be4ae58acb",
    4: "9bb437f3d97ae094",
    5: "0c809634e81fee11",
    6: "4e107215da0d8b35",
    7: "5a0420b3516840a3",
    8: "5a0420b3516840a3",  # the indexes changed, and the words of one task
    9: "ee2f49908b66baf3",
    10: "ef1376129572013e",
    11: "fc79f0ce3e0fba30",
    12: "ab15d5a1c1819b30",
    13: "a67416279eb26e2d",
    14: "a67416279eb26e2d",  # which weights are of a piece as it lies there
    15: "6b247401595cfd87",
    16: "ebc6c04483e32b3f",
    17: "ebc6c04483e32b3f",  # a shelter more
    18: "a31a009fb6c579aa",
    19: "d84977632276e2f0",
    20: "4e7ed9523340d679",
    21: "42d532e95423ee57",
    22: "738bc0b3c7a138a3",
    23: "6c4a14cf7362ff37",
}
"""The tables of each reading, by a hash. A new form gets a new number; the numbers before stay as they are."""


def test_the_newest_revision_is_the_last_of_the_folder() -> None:
    assert migrating.revisions()[-1] == migrating.NEWEST
    assert migrating.revisions() == tuple(f"{n:04d}" for n in range(1, len(migrating.revisions()) + 1))


def test_the_revisions_make_the_tables_that_the_program_knows(book: Book) -> None:
    with book.engine.connect() as at:
        context = MigrationContext.configure(at, opts={"compare_type": True})
        found = [step for step in compare_metadata(context, truth.TRUTH) if step[0] not in ("remove_table", "remove_index")]
    assert found == []


def test_whoever_changes_a_read_model_counts_the_reading_up() -> None:
    text = "".join(str(CreateTable(table)) for table in models.MODELS.sorted_tables)
    assert FORMS.get(models.READING) == sha256(text.encode()).hexdigest()[:16]


def rows_of(path: Path, table: str) -> list[tuple[object, ...]]:
    """What stands in a table, asked without any of our code."""
    with sqlite3.connect(path) as plain:
        return sorted(plain.execute(f"SELECT * FROM {table}"), key=repr)


@pytest.mark.parametrize("older", [False, True])
def test_a_book_of_version_one_is_opened_and_says_what_it_said(tmp_path: Path, older: bool) -> None:
    path = tmp_path / "book.sqlite"
    with sqlite3.connect(path) as made:
        made.executescript(FIRST.read_text(encoding="utf-8"))
        before = {table: len(rows_of(path, table)) for table in ("event", "log", "plan", "day", "piece", "note", "photo")}
        told = rows_of(path, "event")
        made.execute("UPDATE book SET reading = 0" if older else "SELECT 1")
    made.close()
    book = open_book(in_folder(tmp_path))
    found = examine(book)
    assert found.unsound and all("missing" in each for each in found.unsound)  # its files were never kept
    assert rows_of(path, "event") == told and found.events == before["event"] == 100
    assert {table: len(rows_of(path, table)) for table in before} == before and min(before.values()) > 0
    book.close()


def test_an_older_reading_is_read_anew(book: Book, lies: Lies, phone: Device) -> None:
    phone.send(LogArrived(phone.ids(), "sheet", "ash"))
    with writing(book.engine) as at:
        before = standing(at)
        at.execute(delete(models.sheet))
        at.exec_driver_sql("UPDATE book SET reading = 0")
        at.exec_driver_sql("CREATE TABLE of_an_older_program (log TEXT REFERENCES log (id))")
    again = open_book(lies)
    with reading(again.engine) as at:
        assert standing(at) == before
        assert not inspect(at).has_table("of_an_older_program")
    again.close()


@pytest.mark.parametrize("newer", ["UPDATE book SET reading = 999", "UPDATE alembic_version SET version_num = '0999'"])
def test_a_newer_book_is_refused_with_a_sentence_and_left_as_it_is(book: Book, lies: Lies, phone: Device, newer: str) -> None:
    phone.send(LogArrived(phone.ids(), "sheet", "ash"))
    with writing(book.engine) as at:
        at.exec_driver_sql(newer)
        before = standing(at)
    with pytest.raises(BookNewer, match="newer Waney"):
        open_book(lies)
    with reading(book.engine) as at:
        assert standing(at) == before


NEXT = '''
"""Made for a test: a column more."""
import sqlalchemy as sa
from alembic import op
revision, down_revision = "0004", "0003"
def upgrade():
    op.add_column("event", sa.Column("place", sa.Text, nullable=False, server_default=""))
'''


def test_a_later_program_moves_the_events_on_and_this_one_refuses(book: Book, lies: Lies, phone: Device, tmp_path: Path) -> None:
    phone.send(LogArrived(phone.ids(), "sheet", "ash"))
    shutil.copytree(migrating.MIGRATIONS, tmp_path / "later")
    (tmp_path / "later" / "versions" / "v0004_place.py").write_text(NEXT, encoding="utf-8")
    with writing(book.engine) as at:
        migrating.move_on(at, tmp_path / "later")
    with reading(book.engine) as at:
        assert at.exec_driver_sql("SELECT seq, kind, place FROM event").all() == [(1, "log-arrived", "")]
    with pytest.raises(DBAPIError, match="never changed"), writing(book.engine) as at:
        at.exec_driver_sql("UPDATE event SET place = 'x'")
    with pytest.raises(BookNewer, match="revision 0004, this program knows up to 0003"):
        open_book(lies)


def test_what_is_no_book_is_not_opened(tmp_path: Path) -> None:
    with pytest.raises(NoBook):
        open_book(in_folder(tmp_path))
    (tmp_path / "book.sqlite").write_bytes(b"no database at all, only words" * 50)
    with pytest.raises(NoBook):
        open_book(in_folder(tmp_path))
    (tmp_path / "book.sqlite").write_bytes(b"")
    with pytest.raises(NoBook):
        open_book(in_folder(tmp_path))


def test_the_wheel_holds_the_revisions(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    [wheel] = tmp_path.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    kept = {f"versions/{path.name}" for path in migrating.MIGRATIONS.glob("versions/v*.py")}
    assert kept and {f"waney/yard/book/migrations/{name}" for name in kept} <= names
