"""The shop: its settings, and who may enter."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables of settings, pairing codes, devices and sessions."""
    op.create_table(
        "settings",
        sa.Column("name", sa.String(64), nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_settings"),
    )
    op.create_table(
        "pairing_codes",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("salt", sa.String(32), nullable=False),
        sa.Column("code_hash", sa.String(64), nullable=False),
        sa.Column("tries_left", sa.Integer, nullable=False),
        sa.Column("made_at", TIME, nullable=False),
        sa.Column("made_by", sa.Text, nullable=False),
        sa.Column("expires_at", TIME, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_pairing_codes"),
    )
    op.create_table(
        "devices",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=True),
        sa.Column("paired_at", TIME, nullable=False),
        sa.Column("paired_by", sa.Text, nullable=False),
        sa.Column("seen_at", TIME, nullable=False),
        sa.Column("dropped_at", TIME, nullable=True),
        sa.Column("dropped_by", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_devices"),
        sa.UniqueConstraint("token_hash", name="uq_devices_token_hash"),
    )
    op.create_table(
        "sessions",
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("device_id", sa.String(32), nullable=False),
        sa.Column("begun_at", TIME, nullable=False),
        sa.Column("seen_at", TIME, nullable=False),
        sa.Column("expires_at", TIME, nullable=False),
        sa.PrimaryKeyConstraint("token_hash", name="pk_sessions"),
        sa.ForeignKeyConstraint(
            ["device_id"], ["devices.id"], name="fk_sessions_device_id_devices"
        ),
    )
    op.create_index("ix_sessions_device_id", "sessions", ["device_id"])


def downgrade() -> None:
    """Take the four tables away."""
    op.drop_index("ix_sessions_device_id", "sessions")
    op.drop_table("sessions")
    op.drop_table("devices")
    op.drop_table("pairing_codes")
    op.drop_table("settings")
