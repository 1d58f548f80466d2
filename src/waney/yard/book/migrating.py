"""Making a book, and moving an older one on: Alembic for the events, a new reading of them for everything else."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, insert, inspect, select, text, update
from sqlalchemy.exc import DBAPIError

from waney.yard.book import models, truth
from waney.yard.book.engine import writing
from waney.yard.book.replaying import read_anew
from waney.yard.problems import BookNewer, NoBook

NEWEST = "0003"
"""The last revision of the events; a test holds it against the revisions that are there."""
MIGRATIONS = Path(__file__).parent / "migrations"
NEWER = "This book was written by a newer Waney ({what}). Use that version, or restore an older backup into another folder."


def revision_of(at: Connection) -> str | None:
    """The revision that a book is at; None where there is no book."""
    if not inspect(at).has_table("alembic_version"):
        return None
    return at.execute(text("SELECT version_num FROM alembic_version")).scalar()


def make_tables(at: Connection, now: datetime) -> None:
    """Tables for a new book, empty, with its first row."""
    move_on(at)
    models.MODELS.create_all(at)
    row = {"id": 1, "made_at": now.isoformat(), "last_seq": 0, "reading": models.READING}
    at.execute(insert(truth.book), row)


def bring_up_to_date(engine: Engine) -> None:
    """Move an older book on. Raises NoBook, BookNewer; a book of today is only looked at."""
    try:
        with engine.connect() as at:
            if _is_of_today(at):
                return
    except DBAPIError as fault:
        if getattr(fault.orig, "sqlite_errorname", "") == "SQLITE_NOTADB":
            raise NoBook("What is there is no book of Waney, nor any database.") from None
        raise
    with writing(engine) as at:
        at.execute(select(truth.book.c.last_seq).with_for_update())
        if not _is_of_today(at):  # somebody else was quicker
            move_on(at)
            drop_models(at)
            models.MODELS.create_all(at)
            read_anew(at).write(at)
            at.execute(update(truth.book).values(reading=models.READING))


def _is_of_today(at: Connection) -> bool:
    revision = _known_revision(at)
    if revision != NEWEST:
        return False
    found = at.execute(select(truth.book.c.reading)).scalar()
    if found is None:
        raise NoBook("The book has no first page; it was not made whole. Restore a backup.")
    if found > models.READING:
        raise BookNewer(NEWER.format(what=f"its read models are of form {found}, this program knows {models.READING}"))
    return bool(found == models.READING)


def _known_revision(at: Connection) -> str:
    revision = revision_of(at)
    if revision is None:
        raise NoBook("There is no book there.")
    if revision not in revisions():
        raise BookNewer(NEWER.format(what=f"its events are of revision {revision}, this program knows up to {NEWEST}"))
    return revision


def revisions() -> tuple[str, ...]:
    """Revisions that this program knows, by the names of their files."""
    return tuple(sorted(path.stem[1:5] for path in (MIGRATIONS / "versions").glob("v[0-9]*.py")))


def move_on(at: Connection, folder: Path = MIGRATIONS) -> None:
    """Let Alembic take the events to the last revision of a folder, within the transaction of `at`."""
    from alembic.config import Config
    from alembic.runtime.environment import EnvironmentContext
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    script = ScriptDirectory.from_config(config)

    def steps(revision: Any, _context: object) -> list[Any]:
        return list(script._upgrade_revs("head", revision))

    with EnvironmentContext(config, script, fn=steps) as environment:
        environment.configure(connection=at)
        environment.run_migrations()


def drop_models(at: Connection) -> None:
    """Take away every read model, whatever form it has; the events stay."""
    kept = {*truth.TRUTH.tables, "alembic_version"}
    names = [name for name in inspect(at).get_table_names() if name not in kept]
    if at.dialect.name == "sqlite":
        at.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
    for name in names:
        quoted = at.dialect.identifier_preparer.quote(name)
        at.exec_driver_sql(f"DROP TABLE IF EXISTS {quoted}" + (" CASCADE" if at.dialect.name == "postgresql" else ""))
