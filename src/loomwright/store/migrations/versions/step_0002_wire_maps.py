"""Wire maps, kept for the next vehicle of the same kind."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make both tables."""
    op.create_table(
        "wire_maps",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("vehicle", sa.Text, nullable=False),
        sa.Column("fits", sa.Text, nullable=False),
        sa.Column("notes", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("rig_id", sa.String(32), nullable=True),
        sa.Column("kept_at", TIME, nullable=False),
        sa.Column("kept_by", sa.Text, nullable=False),
        sa.Column("retired_at", TIME, nullable=True),
        sa.Column("retired_by", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_wire_maps"),
        sa.ForeignKeyConstraint(["rig_id"], ["rigs.id"], name="fk_wire_maps_rig_id_rigs"),
    )
    op.create_table(
        "mapped_wires",
        sa.Column("map_id", sa.String(32), nullable=False),
        sa.Column("place", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("function", sa.Text, nullable=False),
        sa.Column("colour", sa.Text, nullable=False),
        sa.Column("size", sa.Text, nullable=False),
        sa.Column("found", sa.Text, nullable=False),
        sa.Column("verified_how", sa.Text, nullable=False),
        sa.Column("verified_at", TIME, nullable=False),
        sa.Column("verified_by", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("map_id", "place", name="pk_mapped_wires"),
        sa.ForeignKeyConstraint(
            ["map_id"], ["wire_maps.id"], name="fk_mapped_wires_map_id_wire_maps"
        ),
    )


def downgrade() -> None:
    """Take both tables away."""
    op.drop_table("mapped_wires")
    op.drop_table("wire_maps")
