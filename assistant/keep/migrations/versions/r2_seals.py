"""A seal on each event, summaries that answer fast, and what a shared store has still to get."""

import sqlalchemy as sa
from alembic import op

revision = "2"
down_revision = "1"


def upgrade() -> None:
    """Adds only; no event is touched, so those from before have no seal."""
    op.add_column("events", sa.Column("seal", sa.Text))
    op.create_index("batches_begun_at", "batches", ["begun_at"])
    op.create_table(
        "news",
        sa.Column("batch", sa.Text, primary_key=True),
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
    )
    _summaries()
    op.create_table(
        "marks",
        sa.Column("batch", sa.Text, primary_key=True),
        sa.Column("id", sa.Text, primary_key=True),
    )
    op.create_table("unsent", sa.Column("batch", sa.Text, primary_key=True))
    op.execute("INSERT INTO news SELECT batch, max(seq) FROM events GROUP BY batch")
    op.execute("UPDATE store_version SET version = 2")


def _summaries() -> None:
    texts = ("begun", "last", "recipe", "fruit", "filled", "emptied", "body", "code")
    op.create_table(
        "summaries",
        sa.Column("batch", sa.Text, primary_key=True),
        sa.Column("events", sa.Integer, nullable=False),
        sa.Column("open", sa.Integer, nullable=False),
        *(sa.Column(name, sa.Text, nullable=False) for name in texts),
    )
    op.create_index("summaries_begun", "summaries", ["begun"])
    op.create_index("summaries_open", "summaries", ["open", "last"])
    op.create_index("summaries_shelf", "summaries", ["emptied"])
    op.create_index("summaries_kind", "summaries", ["recipe", "fruit", "begun"])
    op.create_index("summaries_code", "summaries", ["code"])
