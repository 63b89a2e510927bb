"""Rigs, and every version of each."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make both tables."""
    op.create_table(
        "rigs",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("vehicle", sa.Text, nullable=False),
        sa.Column("trailer", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("usable", sa.Boolean, nullable=False),
        sa.Column("archived", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("created_at", TIME, nullable=False),
        sa.Column("created_by", sa.Text, nullable=False),
        sa.Column("updated_at", TIME, nullable=False),
        sa.Column("updated_by", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_rigs"),
    )
    op.create_index("ix_rigs_updated_at", "rigs", ["updated_at"])
    op.create_table(
        "versions",
        sa.Column("rig_id", sa.String(32), nullable=False),
        sa.Column("number", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("usable", sa.Boolean, nullable=False),
        sa.Column("change", sa.Text, nullable=False),
        sa.Column("stands_at", sa.Integer, nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("rig_id", "number", name="pk_versions"),
        sa.ForeignKeyConstraint(["rig_id"], ["rigs.id"], name="fk_versions_rig_id_rigs"),
    )


def downgrade() -> None:
    """Take both tables away."""
    op.drop_table("versions")
    op.drop_index("ix_rigs_updated_at", "rigs")
    op.drop_table("rigs")
