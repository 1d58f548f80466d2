"""The first form of the events: append-only, guarded by triggers."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

WHOLE = sa.BigInteger().with_variant(sa.Integer, "sqlite")
GUARDS = ("UPDATE", "DELETE")
SAID = "events are never changed"


def upgrade() -> None:
    """Tables and guards."""
    op.create_table(
        "book",
        sa.Column("id", sa.Integer, sa.CheckConstraint("id = 1"), primary_key=True, autoincrement=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("last_seq", WHOLE, sa.CheckConstraint("last_seq >= 0"), nullable=False),
        sa.Column("reading", sa.Integer, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "event",
        sa.Column("seq", WHOLE, sa.CheckConstraint("seq >= 1"), primary_key=True, autoincrement=False),
        sa.Column("stream", sa.Text, nullable=False),
        sa.Column("number", sa.Integer, sa.CheckConstraint("number >= 1"), nullable=False),
        sa.Column("command", sa.Text, sa.CheckConstraint("length(command) = 36"), nullable=False, unique=True),
        sa.Column("device", sa.Text, sa.CheckConstraint("length(device) = 36"), nullable=False),
        sa.Column("count", WHOLE, sa.CheckConstraint("count >= 1"), nullable=False),
        sa.Column("person", sa.Text, nullable=False),
        sa.Column("happened_at", sa.Text, nullable=False),
        sa.Column("recorded_at", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("form", sa.Integer, sa.CheckConstraint("form >= 1"), nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("read", sa.Text, nullable=False),
        sa.UniqueConstraint("stream", "number"),
        sqlite_strict=True,
    )
    op.create_index("event_device", "event", ["device", "count"])
    if op.get_bind().dialect.name == "sqlite":
        _guard_sqlite()
    else:
        _guard_postgresql()


def _guard_sqlite() -> None:
    for what in GUARDS:
        op.execute(f"CREATE TRIGGER event_no_{what.lower()} BEFORE {what} ON event BEGIN SELECT RAISE(ABORT, '{SAID}'); END")


def _guard_postgresql() -> None:
    op.execute(f"CREATE FUNCTION event_is_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION '{SAID}'; END $$")
    for what in GUARDS:
        op.execute(f"CREATE TRIGGER event_no_{what.lower()} BEFORE {what} ON event FOR EACH ROW EXECUTE FUNCTION event_is_kept()")
    op.execute("CREATE TRIGGER event_no_truncate BEFORE TRUNCATE ON event EXECUTE FUNCTION event_is_kept()")
