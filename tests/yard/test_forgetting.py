"""A person can be forgotten: the name is nowhere any more, what they did stays, and nothing else of an event can be changed."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import select, update
from sqlalchemy.exc import DBAPIError

from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.people_places import NAMELESS, PersonAdded, PersonForgotten, SpotNamed
from waney.yard.book import models, truth
from waney.yard.book.around import people
from waney.yard.book.book import Book, open_book
from waney.yard.book.copies import back_up, export, restore
from waney.yard.book.engine import Lies, in_folder, reading, writing
from waney.yard.book.examining import examine
from waney.yard.book.looking import history, version_of
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.book.stories import last_events
from waney.yard.commands import Command, Read
from waney.yard.problems import BookBusy, NotInBook, Reused, Stale

from .conftest import HAPPENED, NOW, Device, Ids

NAME = "Quentin Ashworth-Ødegård"
FIRST = Path(__file__).parents[1] / "data" / "yard-book-1.sql"


def forget(device: Device, person: str) -> None:
    about = f"person:{person}"
    device.send(PersonForgotten(person), Read(about, version_of(device.book, about)))


@pytest.fixture
def adding(book: Book, phone: Device) -> Command:
    """How somebody was added who then sawed for a day."""
    command = phone.command(PersonAdded(phone.ids(), NAME))
    book.send(command, NOW)
    for act in (DayOpened(day := phone.ids(), "2026-05-04"), CameOff(phone.ids(), day=day)):
        phone.count += 1
        book.send(Command(phone.ids(), phone.id, phone.count, person_of(command), HAPPENED, act), NOW)
    return command


def person_of(adding: Command) -> str:
    assert isinstance(adding.act, PersonAdded)
    return adding.act.person


def letters_in(folder: Path) -> list[str]:
    """Files in which the name stands, as text or as JSON writes it."""
    forms = (NAME.encode(), b"Quentin Ashworth")
    return [path.name for path in folder.rglob("*") if path.is_file() and any(form in path.read_bytes() for form in forms)]


def test_the_name_is_nowhere_and_the_rest_stays(book: Book, lies: Lies, phone: Device, adding: Command, tmp_path: Path) -> None:
    person = person_of(adding)
    with reading(book.engine) as at:
        before = at.execute(select(truth.event).order_by(truth.event.c.seq)).all()
    forget(phone, person)
    with reading(book.engine) as at:
        now = at.execute(select(truth.event).order_by(truth.event.c.seq)).all()
        assert [row[:11] for row in now[:-1]] == [row[:11] for row in before]
        assert [row.body == old.body for row, old in zip(now, before, strict=False)] == [False, True, True]
        assert all(NAME not in str(row) for rows in standing(at).values() for row in rows)
        assert standing(at) == standing_anew(at)
    assert people(book) == () and [each.called for each in last_events(book)] == ["", NAMELESS, NAMELESS, ""]
    if lies.file is not None:
        assert letters_in(lies.file.parent) == []
    export(book, tmp_path / "plain")
    assert letters_in(tmp_path / "plain") == [] and examine(book).unsound == ()


def test_a_copy_holds_what_the_book_holds(book: Book, phone: Device, adding: Command, tmp_path: Path) -> None:
    """One made before still has the name: its owner destroys it. One made after has not, and is restored the same."""
    back_up(book, tmp_path / "before.zip")
    forget(phone, person_of(adding))
    back_up(book, tmp_path / "after.zip")
    called = {}
    for name in ("before", "after"):
        restore(tmp_path / f"{name}.zip", in_folder(tmp_path / name), NOW)
        again = open_book(in_folder(tmp_path / name))
        called[name] = [each.called for each in people(again)]
        assert examine(again).unsound == ()
        if name == "after":
            with reading(again.engine) as at, reading(book.engine) as there:
                assert standing(at) == standing(there)
        again.close()
    assert called == {"before": [NAME], "after": []}


def test_sending_the_adding_again_does_nothing(book: Book, phone: Device, adding: Command) -> None:
    first = book.send(adding, NOW)
    forget(phone, person_of(adding))
    assert book.send(adding, NOW) == first and first.before
    assert len(history(book, f"person:{person_of(adding)}")) == 2 and people(book) == ()
    other = Command(adding.id, adding.device, adding.count, "", HAPPENED, PersonAdded(phone.ids(), NAME))
    with pytest.raises(Reused):
        book.send(other, NOW)


def test_a_phone_that_was_out_of_reach_brings_no_name_back(book: Book, phone: Device, laptop: Device, adding: Command) -> None:
    forget(phone, person_of(adding))
    late = laptop.command(PersonAdded(person_of(adding), NAME))
    answer = book.send(late, NOW)
    assert [each.partition("-")[0] for each in answer.tasks] == ["twice"] and book.send(late, NOW).before
    with reading(book.engine) as at:
        assert all(NAME not in body for body in at.execute(select(truth.event.c.body)).scalars())
        assert standing(at) == standing_anew(at)


def test_forgetting_is_decided_on_what_was_read(book: Book, phone: Device, laptop: Device, adding: Command) -> None:
    person = person_of(adding)
    with pytest.raises(NotInBook):
        forget(phone, phone.ids())
    laptop.send(PersonAdded(person, "Quint"))
    with pytest.raises(Stale):
        phone.send(PersonForgotten(person), Read(f"person:{person}", 1))
    forget(phone, person)
    with reading(book.engine) as at:
        bodies = at.execute(select(truth.event.c.body).where(truth.event.c.kind == "person-added")).scalars().all()
    assert len(bodies) == 2 and all(NAMELESS in body and "Qu" not in body for body in bodies)


@pytest.mark.parametrize("column", [column.name for column in truth.event.c if column.name != "body"])
def test_forgetting_opens_no_other_column(book: Book, phone: Device, adding: Command, column: str) -> None:
    forget(phone, person_of(adding))
    e = truth.event
    other = 99 if column in ("seq", "number", "count", "form") else phone.ids()
    for values in ({column: other}, {column: other, "body": e.c.body}):
        with pytest.raises(DBAPIError, match="never changed"), writing(book.engine) as at:
            at.execute(update(e).where(e.c.seq == 1).values(values))


def test_the_guards_let_nothing_through_but_the_forgotten_name(book: Book, phone: Device, adding: Command) -> None:
    e, person = truth.event, person_of(adding)
    other = phone.ids()
    phone.send(PersonAdded(other, "Jo"))
    phone.send(SpotNamed(phone.ids(), "rack"))

    def refused(seq: int, person: str, called: str = "somebody") -> None:
        body = f'{{"called":"{called}","person":"{person}"}}'
        with pytest.raises(DBAPIError, match="never changed"), writing(book.engine) as at:
            at.execute(update(e).where(e.c.seq == seq).values(body=body))

    refused(1, person)  # nobody decided it
    forget(phone, person)
    refused(1, person, "Jo")
    refused(1, other)
    refused(2, person)
    refused(4, other)
    refused(5, person)


def test_while_somebody_else_reads_the_name_is_gone_and_the_sentence_says_what_is_left(
    book: Book, lies: Lies, phone: Device, adding: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    if lies.file is None:
        pytest.skip("a server looks after its files itself")
    monkeypatch.setattr("waney.yard.book.engine.WAITS_MS", 50)
    book.engine.dispose()
    reader = open_book(lies)
    with reading(reader.engine) as at:
        at.execute(select(models.person)).all()
        with pytest.raises(BookBusy, match="once more"):
            forget(phone, person_of(adding))
    reader.close()
    assert people(book) == () and letters_in(lies.file.parent) != []
    forget(phone, person_of(adding))
    assert letters_in(lies.file.parent) == []


def test_in_a_book_of_version_one_somebody_is_forgotten(tmp_path: Path, ids: Ids) -> None:
    with sqlite3.connect(tmp_path / "book.sqlite") as made:
        made.executescript(FIRST.read_text(encoding="utf-8"))
    made.close()
    book = open_book(in_folder(tmp_path))
    jo = people(book)[0]
    forget(Device(book, ids), jo.id)
    assert jo.called == "Jo" and jo.id not in {each.id for each in people(book)}
    assert all("missing" in each for each in examine(book).unsound)
    book.close()
