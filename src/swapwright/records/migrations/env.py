"""How the migrations run: on the connection the store gives them, in its transaction."""

from alembic import context

from swapwright.records.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
