"""The event log."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make its table."""
    op.create_table(
        "events",
        sa.Column("seq", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("topic", sa.String(200), nullable=False),
        sa.Column("payload", sa.Text, nullable=False),
        sa.Column("key", sa.String(64), nullable=True),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("seq", name="pk_events"),
        sa.UniqueConstraint("key", name="uq_events_key"),
    )
    op.create_index("ix_events_topic", "events", ["topic"])


def downgrade() -> None:
    """Take its table away."""
    op.drop_index("ix_events_topic", "events")
    op.drop_table("events")
