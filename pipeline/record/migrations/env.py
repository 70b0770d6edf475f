"""Alembic's entry: runs the migrations on the connection that the store opened, inside its transaction."""

from __future__ import annotations

from alembic import context

from pipeline.record.schema import Base

context.configure(connection=context.config.attributes["connection"], target_metadata=Base.metadata)
context.run_migrations()
