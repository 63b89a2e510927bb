"""Bringing a backup back: checked and brought up to date aside, before anything is replaced."""

from __future__ import annotations

import sqlite3
import tempfile
from base64 import b64decode
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    DateTime,
    Engine,
    LargeBinary,
    MetaData,
    String,
    Table,
    delete,
    insert,
    select,
)
from sqlalchemy.exc import IntegrityError

from loomwright.store.access import Access, utc_now
from loomwright.store.backup import make_backup, sync, sync_folder
from loomwright.store.dump import INCOMPLETE, read_dump, unusable
from loomwright.store.engine import is_sqlite, make_engine, where
from loomwright.store.entry import checked_name, checked_text
from loomwright.store.events import Happening, add_event, newest_seq
from loomwright.store.migrate import known_revision, migrate, newer, revisions
from loomwright.store.problem import LOOK, StoreProblem, problem_of, told
from loomwright.store.records_guard import unguarded
from loomwright.store.soundness import SQLITE_HEAD, beside, check_file
from loomwright.store.tables import KEPT, PHOTOS

AT_ONCE = 500
FEW = 4
"""Photos held in memory at once."""


def restore(access: Access, path: Path, who: str, *, keep: Path | None = None) -> None:
    """Replace all that an open store keeps by a backup, in one transaction.

    Parameters
    ----------
    access : Access
        The store.
    path : Path
        The backup, of whatever kind.
    who : str
        Who wants it.
    keep : Path, optional
        Where to put a backup of what is there now.

    Raises
    ------
    StoreProblem
        If the backup is damaged, is something else, or was made by a newer version; then the
        store is as it was.
    InvalidInput
        If `who` is no name.

    Notes
    -----
    Who may enter stays as it is now. Event numbers go on above the highest there was, so that a
    screen that follows them misses nothing.
    """
    happening = Happening(
        "store", {"what": "restored", "backup": path.name}, checked_name(who, "who")
    )
    with _staged(path) as staged, access.writing() as connection:
        if keep is not None:
            make_backup(access, keep)  # nobody else writes while this transaction does
        highest = newest_seq(connection)
        _replace(staged, connection)
        add_event(connection, access, happening, above=highest)


def restore_store(place: str | Path, path: str | Path) -> None:
    """Make a store anew from a backup, where there is none or a damaged one.

    Parameters
    ----------
    place : str or Path
        Where the store shall be. A file that stands there is moved aside, not removed; a
        PostgreSQL database must be empty.
    path : str or Path
        The backup, of whatever kind.

    Raises
    ------
    StoreProblem
        If the backup cannot be used, or the place cannot be written; then all is as it was.
    """
    engine = make_engine(place)
    try:
        if is_sqlite(engine):
            _put_file(Path(path), Path(where(engine)))
        else:
            _fill(Path(path), engine)
    finally:
        engine.dispose()


def _put_file(backup: Path, place: Path) -> None:
    stamp = utc_now().strftime("%Y%m%dT%H%M%S%f")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with _staged(backup, place.parent) as staged:
            staged.dispose()
            made = Path(where(staged))
            _make_single(made)
            for old in beside(place):
                if old.exists():
                    old.rename(old.with_name(f"{old.name}.aside-{stamp}"))
            made.rename(place)
            sync_folder(place.parent)
    except OSError as refused:
        raise StoreProblem(str(place), f"cannot be written ({refused.strerror})", LOOK) from refused


def _make_single(path: Path) -> None:
    """Let a database be one file again, with nothing beside it, on the disk."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("pragma journal_mode=delete")
    path.chmod(0o600)
    sync(path)


def _fill(backup: Path, engine: Engine) -> None:
    if known_revision(engine) is not None:
        fix = "open it and restore there, or give an empty database"
        raise StoreProblem(where(engine), "is a store already", fix)
    with _staged(backup) as staged:
        migrate(engine)
        with Access(engine).writing() as connection:
            _replace(staged, connection)


@contextmanager
def _staged(path: Path, folder: Path | None = None) -> Iterator[Engine]:
    """Give a backup as a database of its own, sound and of the present version."""
    with tempfile.TemporaryDirectory(prefix=".restoring-", dir=folder) as aside:
        engine = make_engine(Path(aside) / "staged.db")
        try:
            try:
                _stage(path, engine)
            except StoreProblem as problem:
                raise StoreProblem(str(path), problem.what, problem.mend) from problem
            yield engine
        finally:
            engine.dispose()


def _stage(path: Path, engine: Engine) -> None:
    if _is_sqlite_file(path):
        _copy(path, Path(where(engine)))
    else:
        _load(path, engine)
    if known_revision(engine) is None:
        raise StoreProblem(str(path), "holds nothing", "choose another backup")
    migrate(engine)


def _is_sqlite_file(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(len(SQLITE_HEAD)) == SQLITE_HEAD
    except OSError as refused:
        what = f"cannot be read ({refused.strerror})"
        raise StoreProblem(str(path), what, "choose another backup") from refused


def _copy(path: Path, stage: Path) -> None:
    """Copy a SQLite backup that is sound; what waits beside it belongs to it."""
    check_file(path)
    try:
        with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(stage)) as target:
            source.backup(target)
    except sqlite3.Error as failed:
        raise problem_of(str(path), str(failed)) from failed


def _load(path: Path, engine: Engine) -> None:
    """Fill a new database of the version of a text backup with its rows."""
    dump = read_dump(path)
    if dump.revision not in revisions():
        raise newer(str(path), dump.revision)
    migrate(engine, dump.revision)
    tables = MetaData()
    tables.reflect(engine)
    with told(str(path)), engine.begin() as connection:
        for name, rows in groupby(dump.rows, key=lambda row: row[0]):
            if (table := tables.tables.get(name)) is None:
                raise unusable(path, name)  # a table that came later than this version
            typed = [_typed(path, table, row) for _, row in rows]
            try:
                connection.execute(insert(table), typed)
            except IntegrityError as refused:
                what = f"holds a row of {name} that comes twice or points nowhere"
                raise StoreProblem(str(path), what, INCOMPLETE) from refused


def _typed(path: Path, table: Table, row: dict[str, Any]) -> dict[str, Any]:
    """Return a row as a table takes it, if it is one: times from text, in UTC."""
    if row.keys() != set(table.columns.keys()):
        raise unusable(path, table.name)
    return {column.name: _value(path, column, row[column.name]) for column in table.columns}


def _value(path: Path, column: Column[Any], value: object) -> object:
    """Return a value as a column takes it; SQLite itself would take anything."""
    if value is None and column.nullable:
        return None
    try:
        if isinstance(column.type, DateTime) and isinstance(value, str):
            at = datetime.fromisoformat(value)
            if at.tzinfo is not None:
                return at.astimezone(UTC).replace(tzinfo=None)
        elif isinstance(column.type, LargeBinary) and isinstance(value, str):
            return b64decode(value, validate=True)
        elif isinstance(column.type, String) and isinstance(value, str):
            return checked_text(value)
        elif column.type.python_type is type(value):
            return value
    except ValueError as refused:
        raise unusable(path, column.table.name) from refused
    raise unusable(path, column.table.name)


def _replace(staged: Engine, connection: Connection) -> None:
    """Put the rows of one database in the place of those of another."""
    with unguarded(connection):
        for table in reversed(KEPT):
            connection.execute(delete(table))
        with staged.connect() as source:
            for table in KEPT:
                at_once = FEW if table is PHOTOS else AT_ONCE
                for rows in source.execute(select(table)).mappings().partitions(at_once):
                    connection.execute(insert(table), [dict(row) for row in rows])
