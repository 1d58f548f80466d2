"""Jobs: long work that was asked for, who does it, and what came of it. They are no events."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

STATES = "'waiting', 'running', 'done', 'failed', 'cancelled'"


def upgrade() -> None:
    """The table and what it is asked by."""
    op.create_table(
        "job",
        sa.Column("id", sa.Text, sa.CheckConstraint("length(id) = 36"), primary_key=True),
        sa.Column("place", sa.Integer, sa.CheckConstraint("place >= 1"), nullable=False, unique=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("input", sa.Text, sa.CheckConstraint("length(input) = 64"), nullable=False),
        sa.Column("version", sa.Text, nullable=False),
        sa.Column("state", sa.Text, sa.CheckConstraint(f"state IN ({STATES})"), nullable=False),
        sa.Column("progress", sa.Double().with_variant(sa.REAL, "sqlite"), nullable=False),
        sa.Column("message", sa.Text, nullable=False),
        sa.Column("answer", sa.Text, nullable=False),
        sa.Column("asked_at", sa.Text, nullable=False),
        sa.Column("taken_at", sa.Text, nullable=False),
        sa.Column("told_at", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=False),
        sa.Column("holder", sa.Text, nullable=False),
        sa.Column("tries", sa.Integer, sa.CheckConstraint("tries >= 0"), nullable=False),
        sa.Column("cancel", sa.Integer, sa.CheckConstraint("cancel IN (0, 1)"), nullable=False),
        sqlite_strict=True,
    )
    op.create_index("job_state", "job", ["state", "place"])
    op.create_index("job_input", "job", ["kind", "input", "version"])
