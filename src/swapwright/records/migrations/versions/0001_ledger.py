"""The ledger, and what stands beside it.

The tables are written out here as they were, and never follow what the program has become.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

SUBJECTS = ("vehicle", "run", "permit", "item", "person", "incident")
STAYS = "a record is never changed and never taken away"


def upgrade() -> None:
    """Make the tables, and what refuses to change the ledger."""
    op.create_table(
        "record",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("kind", sa.String(60), nullable=False),
        sa.Column("by", sa.String(80), nullable=False),
        *(sa.Column(subject, sa.String(80)) for subject in SUBJECTS),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("key", sa.String(80), nullable=False, unique=True),
        sa.Column("content", sa.String(64), nullable=False),
        sa.Column("chained", sa.String(64), nullable=False),
    )
    for subject in (*SUBJECTS, "kind"):
        op.create_index(f"record_by_{subject}", "record", [subject, "number"])
    op.create_table(
        "head",
        sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("chained", sa.String(64), nullable=False),
    )
    op.create_table(
        "attachment",
        sa.Column("hash", sa.String(64), primary_key=True),
        sa.Column("media_type", sa.String(60), nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "checkpoint",
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
    )
    op.create_table(
        "secret",
        sa.Column("person", sa.String(80), primary_key=True),
        sa.Column("which", sa.String(20), primary_key=True),
        sa.Column("hash", sa.Text, nullable=False),
        sa.Column("failures", sa.Integer, nullable=False),
        sa.Column("until", sa.Float, nullable=False),
        sa.Column("seen", sa.Float, nullable=False),
        sa.Column("must_change", sa.Integer, nullable=False),
    )
    op.create_table(
        "session",
        sa.Column("hash", sa.String(64), primary_key=True),
        sa.Column("person", sa.String(80), nullable=False),
        sa.Column("made", sa.Float, nullable=False),
        sa.Column("seen", sa.Float, nullable=False),
        sa.Column("address", sa.String(80), nullable=False),
        sa.Column("agent", sa.String(64), nullable=False),
        sa.Column("form_token", sa.String(64), nullable=False),
        sa.Column("ended", sa.String(200), nullable=False),
    )
    _keep_records()


def _keep_records() -> None:
    """Refuse changes of the ledger in the database itself: a hindrance, and no proof."""
    if op.get_bind().dialect.name == "sqlite":
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER record_stays_{act.lower()} BEFORE {act} ON record "
                f"BEGIN SELECT RAISE(ABORT, '{STAYS}'); END"
            )
        return
    op.execute(
        "CREATE FUNCTION record_stays() RETURNS trigger AS "
        f"$$ BEGIN RAISE EXCEPTION '{STAYS}'; END $$ LANGUAGE plpgsql"
    )
    op.execute(
        "CREATE TRIGGER record_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON record "
        "FOR EACH STATEMENT EXECUTE FUNCTION record_stays()"
    )


def downgrade() -> None:
    """Refuse: what was written is not given up for an older program."""
    raise NotImplementedError("a store is never taken back to an older schema")
