"""Batches and their events."""

import sqlalchemy as sa
from alembic import op

from assistant.keep.schema import guard

revision = "1"
down_revision = None


def upgrade() -> None:
    """The tables as they were first, with their guards."""
    op.create_table(
        "batches",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("recipe", sa.Text, nullable=False),
        sa.Column("begun_at", sa.Text, nullable=False),
    )
    op.create_table(
        "events",
        sa.Column("batch", sa.Text, sa.ForeignKey("batches.id"), primary_key=True),
        sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
    )
    version = op.create_table("store_version", sa.Column("version", sa.Integer, nullable=False))
    guard(op.get_bind())
    op.get_bind().execute(version.insert().values(version=1))
