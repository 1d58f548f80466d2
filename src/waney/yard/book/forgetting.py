"""Forgetting somebody: their name goes out of the events and off the disk; what they did stays, under an id."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import Connection, Engine, select, update

from waney.yard.acts.every import Act, act_json
from waney.yard.acts.people_places import NAMELESS, PersonAdded, PersonForgotten
from waney.yard.book import truth
from waney.yard.book.engine import told_plainly
from waney.yard.book.truth import packed
from waney.yard.commands import Command
from waney.yard.problems import BookBusy

LEFT_OVER = (
    "The name is out of the book, but somebody else reads it just now, so that its file may still hold the letters where nothing "
    "looks. Forget them once more when nobody else is in the book."
)


def nameless(act: PersonAdded) -> PersonAdded:
    """The same, without the name."""
    return replace(act, called=NAMELESS)


def as_kept(at: Connection, command: Command) -> Command:
    """A command as the book may keep it: whoever was forgotten gets no name again from a phone that was out of reach."""
    act = command.act
    if isinstance(act, PersonAdded) and _is_forgotten(at, act):
        return replace(command, act=nameless(act))
    return command


def _is_forgotten(at: Connection, act: PersonAdded) -> bool:
    e = truth.event
    asked = select(e.c.seq).where(e.c.stream == act.streams()[0], e.c.kind == "person-forgotten")
    return at.execute(asked).first() is not None


def bodies_of(act: Act) -> tuple[str, ...]:
    """The bodies that an act may have in the book: as it was sent, and for somebody who is forgotten without the name."""
    forms = (act, nameless(act)) if isinstance(act, PersonAdded) else (act,)
    return tuple(packed(act_json(each)) for each in forms)


def blank(at: Connection, act: PersonForgotten) -> None:
    """Take the name out of every event that holds it; the guards of the database allow this once the forgetting is written."""
    e = truth.event
    body = packed(act_json(PersonAdded(act.person, NAMELESS)))
    at.execute(update(e).where(e.c.stream == act.streams()[0], e.c.kind == "person-added").values(body=body))


def wipe(engine: Engine) -> None:
    """Write the tables anew, so that the letters of a name are not left in parts that nothing reads. Raises BookBusy."""
    with told_plainly():
        raw = engine.raw_connection()
        try:
            connection = raw.driver_connection
            assert connection is not None, "it was just opened"
            if engine.dialect.name == "sqlite":
                connection.execute("VACUUM").close()
                [(held, *_)] = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
                if held:
                    raise BookBusy(LEFT_OVER)
            else:
                connection.autocommit = True
                connection.execute("VACUUM FULL event, person")
                connection.autocommit = False
        finally:
            raw.close()
