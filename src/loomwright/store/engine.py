"""Connections to the database: SQLite so that an acknowledged write stays, or PostgreSQL."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError
from sqlalchemy.pool import ConnectionPoolEntry

from loomwright.store.problem import StoreProblem

WRITES = "loomwright_writes"
"""Execution option of connections that write."""

PATIENCE_S = 10
PRAGMAS = (f"busy_timeout={PATIENCE_S * 1000}", "foreign_keys=on", "synchronous=full")
POSTGRES_SETTINGS = "-c timezone=UTC -c lock_timeout=10s -c synchronous_commit=on"
MOST_CONNECTIONS = 40  # as many as a web server has threads
TAKES = "give a file, or an address such as postgresql://shop@127.0.0.1/loomwright"


def make_engine(place: str | Path) -> Engine:
    """Return an engine for a file, or for the address of a PostgreSQL database.

    Raises
    ------
    StoreProblem
        If it is an address of another kind, or what PostgreSQL needs is not installed.
    """
    url = address(place)
    if url.get_backend_name() == "sqlite":
        return _sqlite(url)
    return _postgres(url)


def address(place: str | Path) -> URL:
    """Return the address of a file or a database.

    Raises
    ------
    StoreProblem
        If it is an address of a database of another kind.
    """
    if isinstance(place, Path) or "://" not in place:
        if not str(place).strip():
            raise StoreProblem(str(place), "has no name", TAKES)
        return URL.create("sqlite", database=str(Path(place).absolute()))
    try:
        url = make_url(place)
    except ArgumentError as refused:
        raise StoreProblem("address", "cannot be read", TAKES) from refused
    if url.drivername in {"postgres", "postgresql", "postgresql+psycopg"}:
        return url.set(drivername="postgresql+psycopg")
    raise StoreProblem(url.render_as_string(), f"is of an unknown kind ({url.drivername})", TAKES)


def where(engine: Engine) -> str:
    """Return the file or the address of an engine, without its password."""
    if engine.dialect.name == "sqlite":
        return str(engine.url.database)
    return engine.url.set(drivername="postgresql").render_as_string()


def is_sqlite(engine: Engine) -> bool:
    """Return whether the store is a SQLite file."""
    return engine.dialect.name == "sqlite"


def _sqlite(url: URL) -> Engine:
    engine = create_engine(url, pool_size=5, max_overflow=MOST_CONNECTIONS)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _: ConnectionPoolEntry) -> None:
    connection.isolation_level = None  # BEGIN is ours to say
    for pragma in PRAGMAS:
        connection.execute(f"pragma {pragma}")
    _log_ahead(connection, time.monotonic() + PATIENCE_S)


def _log_ahead(connection: sqlite3.Connection, until: float) -> None:
    """Write ahead into a log; SQLite does not wait by itself where several set this at once."""
    while True:
        try:
            connection.execute("pragma journal_mode=wal")
        except sqlite3.OperationalError as refused:
            if "locked" not in str(refused) or time.monotonic() > until:
                raise
            time.sleep(0.02)
        else:
            return


def _begin(connection: Connection) -> None:
    """Let a writer lock first and read then: a read that turns to writing could find it stale."""
    writes = connection.get_execution_options().get(WRITES, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _postgres(url: URL) -> Engine:
    settings = {"options": POSTGRES_SETTINGS, "connect_timeout": 10}
    try:
        return create_engine(
            url,
            connect_args=settings,
            pool_pre_ping=True,
            pool_size=5,
            max_overflow=MOST_CONNECTIONS,
        )
    except ModuleNotFoundError as missing:
        what = "needs the PostgreSQL library"
        fix = "install it: pip install 'loomwright[postgres]'"
        raise StoreProblem(url.render_as_string(), what, fix) from missing
