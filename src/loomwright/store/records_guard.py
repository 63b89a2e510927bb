"""Lifting the guards of signed records: for a restore alone, which replaces all that is kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Connection, text

from loomwright.store.tables import PHOTOS, RECORD_PHOTOS, RECORD_PRINTS, RECORDS

GUARDED = (RECORDS, RECORD_PHOTOS, PHOTOS, RECORD_PRINTS)


@contextmanager
def unguarded(connection: Connection) -> Iterator[None]:
    """Let all be replaced within a transaction that writes already; the guards stand after it.

    Parameters
    ----------
    connection : Connection
        Its transaction holds the change of guards as well: if it fails, they never went.
    """
    if connection.dialect.name == "sqlite":
        guards = connection.execute(
            text("select name, sql from sqlite_master where type = 'trigger'")
        ).all()
        for name, _ in guards:
            connection.exec_driver_sql(f'drop trigger "{name}"')
        yield
        for _, sql in guards:
            connection.exec_driver_sql(sql)
        return
    for table in GUARDED:
        connection.exec_driver_sql(f'alter table "{table.name}" disable trigger user')
    yield
    for table in GUARDED:
        connection.exec_driver_sql(f'alter table "{table.name}" enable trigger user')
