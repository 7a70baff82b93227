"""Run by Alembic: the connection comes from `journal.store.migrate`."""

from alembic import context

from journal.store.models import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    # SQLite cannot alter a column; Alembic then copies the table.
    render_as_batch=True,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
