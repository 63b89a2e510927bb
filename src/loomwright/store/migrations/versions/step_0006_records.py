"""Records of work, their photos and prints; what is signed cannot be changed.

The guards are triggers, so they hold for every program that writes to the database. A later step
that makes one of these tables anew must make its guards anew too.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

TIME = sa.DateTime(timezone=True)

SIGNED = "a signed record stays as it is: correct it by a new version"
OF_RECORD = """exists (select 1 from records r where r.state = 'signed'
    and r.id = old.record_id and r.version = old.version)"""
OF_PHOTO = """exists (select 1 from record_photos p join records r
    on r.id = p.record_id and r.version = p.version
    where r.state = 'signed' and p.sha256 = old.sha256)"""
GUARDS = (
    ("records", "update", "old.state = 'signed'"),
    ("records", "delete", "old.state = 'signed'"),
    ("record_photos", "update", OF_RECORD),
    ("record_photos", "delete", OF_RECORD),
    ("photos", "update", "true"),
    ("photos", "delete", OF_PHOTO),
    ("record_prints", "update", "true"),
    ("record_prints", "delete", "true"),
)
"""Table, act, and when it is refused."""

REPLACED = (
    ("records", "id = new.id and version = new.version and state = 'signed'"),
    ("photos", "sha256 = new.sha256"),
    ("record_prints", "sha256 = new.sha256"),
)
"""SQLite: `insert or replace` deletes without the guard of deletion, so it is refused itself."""


def upgrade() -> None:
    """Make the tables and their guards."""
    op.create_table(
        "records",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("version", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("rig_id", sa.String(32), nullable=False),
        sa.Column("state", sa.String(8), nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("checksum", sa.String(64), nullable=True),
        sa.Column("made_at", TIME, nullable=False),
        sa.Column("made_by", sa.Text, nullable=False),
        sa.Column("changed_at", TIME, nullable=False),
        sa.Column("changed_by", sa.Text, nullable=False),
        sa.Column("signed_at", TIME, nullable=True),
        sa.Column("signed_by", sa.Text, nullable=True),
        sa.PrimaryKeyConstraint("id", "version", name="pk_records"),
        sa.UniqueConstraint("checksum", name="uq_records_checksum"),
        sa.ForeignKeyConstraint(["rig_id"], ["rigs.id"], name="fk_records_rig_id_rigs"),
    )
    op.create_index("ix_records_rig_id", "records", ["rig_id"])
    op.create_table(
        "photos",
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(8), nullable=False),
        sa.Column("width", sa.Integer, nullable=False),
        sa.Column("height", sa.Integer, nullable=False),
        sa.Column("turned", sa.Integer, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.Column("kept_at", TIME, nullable=False),
        sa.Column("kept_by", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("sha256", name="pk_photos"),
    )
    op.create_table(
        "record_photos",
        sa.Column("record_id", sa.String(32), nullable=False),
        sa.Column("version", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("record_id", "version", "sha256", name="pk_record_photos"),
        sa.ForeignKeyConstraint(
            ["sha256"], ["photos.sha256"], name="fk_record_photos_sha256_photos"
        ),
        _of_record("record_photos"),
    )
    op.create_table(
        "record_prints",
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("record_id", sa.String(32), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("paper", sa.String(8), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.PrimaryKeyConstraint("sha256", name="pk_record_prints"),
        _of_record("record_prints"),
    )
    _guard_sqlite() if _is_sqlite() else _guard_postgres()


def downgrade() -> None:
    """Take the tables away, and their guards with them."""
    for table in ("record_prints", "record_photos", "photos"):
        op.drop_table(table)
    op.drop_index("ix_records_rig_id", "records")
    op.drop_table("records")
    if not _is_sqlite():
        for table, act, _ in GUARDS:
            op.execute(f"drop function refuse_{act}_of_{table}()")
        op.execute("drop function refuse_emptying()")


def _of_record(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["record_id", "version"],
        ["records.id", "records.version"],
        name=f"fk_{table}_record_id_version_records",
    )


def _is_sqlite() -> bool:
    return op.get_bind().dialect.name == "sqlite"


def _guard_sqlite() -> None:
    for table, act, when in GUARDS:
        op.execute(
            f"create trigger guard_{table}_{act} before {act} on {table} for each row when {when} "
            f"begin select raise(abort, '{SIGNED}'); end"
        )
    for table, same in REPLACED:
        there = f"exists (select 1 from {table} where {same})"  # noqa: S608 (our own names)
        op.execute(
            f"create trigger guard_{table}_replace before insert on {table} for each row "
            f"when {there} begin select raise(abort, '{SIGNED}'); end"
        )


def _guard_postgres() -> None:
    refuse = f"raise exception '{SIGNED}' using errcode = 'integrity_constraint_violation';"
    for table, act, when in GUARDS:
        op.execute(
            f"create function refuse_{act}_of_{table}() returns trigger language plpgsql as $$ "
            f"begin if {when} then {refuse} end if; "
            f"return {'old' if act == 'delete' else 'new'}; end $$"
        )
        op.execute(
            f"create trigger guard_{table}_{act} before {act} on {table} "
            f"for each row execute function refuse_{act}_of_{table}()"
        )
    op.execute(
        "create function refuse_emptying() returns trigger language plpgsql as $$ "
        f"begin {refuse} end $$"
    )
    for table in dict.fromkeys(table for table, _, _ in GUARDS):
        op.execute(
            f"create trigger guard_{table}_truncate before truncate on {table} "
            "for each statement execute function refuse_emptying()"
        )
