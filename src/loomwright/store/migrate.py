"""Bringing a database to the present version, in one transaction that holds or leaves no trace."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, func, inspect, select

from loomwright.store.access import WRITER_LOCK
from loomwright.store.engine import WRITES, is_sqlite, where
from loomwright.store.problem import RESTORE, StoreProblem, told
from loomwright.store.tables import VERSION_TABLE

SCRIPTS = Path(__file__).parent / "migrations"
APPLICATION_ID = 0x4C6F6F6D  # "Loom", in the header of a SQLite file


def alembic_config(connection: Connection | None = None) -> Config:
    """Return what Alembic needs to know; no ini file is read."""
    config = Config()
    config.set_main_option("script_location", str(SCRIPTS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def revisions() -> tuple[str, ...]:
    """Return the versions a store has had, oldest first."""
    scripts = ScriptDirectory.from_config(alembic_config())
    return tuple(script.revision for script in scripts.walk_revisions())[::-1]


def revision_of(connection: Connection) -> str | None:
    """Return the version of a database, None if it is empty."""
    options = {"version_table": VERSION_TABLE}
    return MigrationContext.configure(connection, opts=options).get_current_revision()


def known_revision(engine: Engine) -> str | None:
    """Return the version of a database, None if it is empty.

    Raises
    ------
    StoreProblem
        If it holds tables of something else, or was written by a newer version.
    """
    with told(where(engine)), engine.connect() as connection:
        revision = revision_of(connection)
        if revision is None and inspect(connection).get_table_names():
            fix = "choose another file, or give Loomwright an empty database of its own"
            raise StoreProblem(where(engine), "is no store of Loomwright", fix)
    if revision is not None and revision not in revisions():
        raise newer(where(engine), revision)
    return revision


def newer(place: str, revision: str) -> StoreProblem:
    """Return the problem of a version that is not known here."""
    what = f"was written by a newer Loomwright (version {revision} of the store)"
    return StoreProblem(place, what, "update Loomwright, or restore a backup that this one made")


def migrate(engine: Engine, to: str = "head") -> None:
    """Bring a database to a version; waits for others who do the same.

    Raises
    ------
    StoreProblem
        If it cannot be written, or what it holds does not fit together.
    """
    writer = engine.execution_options(**{WRITES: True})
    with told(where(engine)), writer.connect() as connection:
        _guard_references(connection, "off")  # a table that is made anew is dropped on the way
        try:
            with connection.begin():
                _lock(connection)
                command.upgrade(alembic_config(connection), to)
                if is_sqlite(engine):
                    connection.exec_driver_sql(f"pragma application_id={APPLICATION_ID}")
                    _refuse_loose_ends(connection)
        finally:
            _guard_references(connection, "on")


def _lock(connection: Connection) -> None:
    if connection.dialect.name != "sqlite":
        connection.execute(select(func.pg_advisory_xact_lock(WRITER_LOCK)))


def _guard_references(connection: Connection, state: str) -> None:
    """Turn SQLite's guard of references on or off; only outside a transaction does it listen."""
    driver = connection.connection.driver_connection
    if connection.dialect.name == "sqlite" and driver is not None:
        driver.execute(f"pragma foreign_keys={state}")


def _refuse_loose_ends(connection: Connection) -> None:
    if connection.exec_driver_sql("pragma foreign_key_check").first() is not None:
        raise StoreProblem(where(connection.engine), "holds rows that point nowhere", RESTORE)
