"""Forgetting a person: the guards let one change through, the name in the body of the event that added somebody.

What stands in the place of the name is written out here: a revision never changes.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

GUARD = "CREATE TRIGGER event_no_update BEFORE UPDATE ON event"
SAID = "events are never changed"
BLANK = """'{"called":"somebody","person":"' || substr(OLD.stream, 8) || '"}'"""
"""8: after "person:" """
FORGOTTEN = "EXISTS (SELECT 1 FROM event AS later WHERE later.stream = OLD.stream AND later.kind = 'person-forgotten')"
MAY = f"OLD.kind = 'person-added' AND NEW.body = {BLANK} AND {FORGOTTEN}"


def upgrade() -> None:
    """The guard against changes, made anew."""
    op.execute("DROP TRIGGER event_no_update" + ("" if _sqlite() else " ON event"))
    if _sqlite():
        op.execute(f"{GUARD} WHEN NOT ({MAY} AND {_rest_is_the_same()}) BEGIN SELECT RAISE(ABORT, '{SAID}'); END")
    else:
        op.execute(_function())
        op.execute(f"{GUARD} FOR EACH ROW EXECUTE FUNCTION event_is_kept_or_blanked()")


def _sqlite() -> bool:
    return op.get_bind().dialect.name == "sqlite"


def _rest_is_the_same() -> str:
    columns = [column["name"] for column in sa.inspect(op.get_bind()).get_columns("event")]
    return " AND ".join(f'NEW."{name}" IS OLD."{name}"' for name in columns if name != "body")


def _function() -> str:
    rest = "to_jsonb(NEW) - 'body' = to_jsonb(OLD) - 'body'"
    return (
        "CREATE FUNCTION event_is_kept_or_blanked() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF {MAY} AND {rest} THEN RETURN NEW; END IF; RAISE EXCEPTION '{SAID}'; END $$"
    )
