"""Alembic's way in: it is handed a connection, and works within that connection's transaction."""

from __future__ import annotations

from alembic import context

context.configure(connection=context.config.attributes["connection"], render_as_batch=True)
context.run_migrations()
