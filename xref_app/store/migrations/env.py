"""Alembic's entry: it works on the connection, and inside the transaction, that migrate.py hands over."""

from alembic import context
from sqlalchemy import Connection

from xref_app.store.tables import METADATA

connection = context.config.attributes["connection"]
if not isinstance(connection, Connection):
    raise TypeError("migrations run through xref_app.store.migrate, which hands over its connection")
context.configure(connection=connection, target_metadata=METADATA, render_as_batch=True, transactional_ddl=True)
with context.begin_transaction():
    context.run_migrations()
