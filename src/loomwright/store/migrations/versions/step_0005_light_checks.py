"""Light checks, their answers, and what is normal for a vehicle."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "light_checks",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("rig_id", sa.String(32), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("stage", sa.Text, nullable=False),
        sa.Column("vehicle", sa.Text, nullable=False),
        sa.Column("tester", sa.Text, nullable=False),
        sa.Column("people", sa.Integer, nullable=False),
        sa.Column("plan", sa.Text, nullable=False),
        sa.Column("step", sa.Integer, nullable=False),
        sa.Column("begun_at", TIME, nullable=False),
        sa.Column("begun_by", sa.Text, nullable=False),
        sa.Column("ended_at", TIME, nullable=True),
        sa.Column("ended_by", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_light_checks"),
        sa.UniqueConstraint("number", name="uq_light_checks_number"),
        sa.ForeignKeyConstraint(["rig_id"], ["rigs.id"], name="fk_light_checks_rig_id_rigs"),
    )
    op.create_index("ix_light_checks_rig_id", "light_checks", ["rig_id"])
    op.create_table(
        "light_answers",
        sa.Column("check_id", sa.String(32), nullable=False),
        sa.Column("number", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("expectation", sa.Text, nullable=False),
        sa.Column("observation", sa.Text, nullable=True),
        sa.Column("standing", sa.Text, nullable=False),
        sa.Column("says", sa.Text, nullable=False),
        sa.Column("key", sa.String(64), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("kept_at", TIME, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("check_id", "number", name="pk_light_answers"),
        sa.ForeignKeyConstraint(
            ["check_id"], ["light_checks.id"], name="fk_light_answers_check_id_light_checks"
        ),
    )
    op.create_table(
        "usual_readings",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("vehicle", sa.Text, nullable=False),
        sa.Column("fits", sa.Text, nullable=False),
        sa.Column("map_id", sa.String(32), nullable=True),
        sa.Column("check_id", sa.String(32), nullable=False),
        sa.Column("observation", sa.Text, nullable=False),
        sa.Column("kept_at", TIME, nullable=False),
        sa.Column("kept_by", sa.Text, nullable=False),
        sa.Column("retired_at", TIME, nullable=True),
        sa.Column("retired_by", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_usual_readings"),
        sa.ForeignKeyConstraint(
            ["map_id"], ["wire_maps.id"], name="fk_usual_readings_map_id_wire_maps"
        ),
        sa.ForeignKeyConstraint(
            ["check_id"], ["light_checks.id"], name="fk_usual_readings_check_id_light_checks"
        ),
    )


def downgrade() -> None:
    """Take the tables away."""
    op.drop_table("usual_readings")
    op.drop_table("light_answers")
    op.drop_index("ix_light_checks_rig_id", "light_checks")
    op.drop_table("light_checks")
