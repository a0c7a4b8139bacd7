"""Run by Alembic: the steps go through the connection, and the transaction, of the caller."""

from alembic import context

from advisor.library.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
