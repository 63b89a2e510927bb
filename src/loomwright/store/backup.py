"""Making a backup: a whole file under its name, or none."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from loomwright.store.access import Access
from loomwright.store.dump import dump_lines
from loomwright.store.engine import is_sqlite
from loomwright.store.migrate import revision_of
from loomwright.store.problem import LOOK, StoreProblem, problem_of
from loomwright.store.soundness import check_file
from loomwright.store.tables import DOOR


def make_backup(access: Access, path: Path, *, as_text: bool = False) -> Path:
    """Write all that is kept, as it is at one moment, while others go on working.

    Parameters
    ----------
    access : Access
        The store.
    path : Path
        Where to; nothing may stand there.
    as_text : bool
        Lines of JSON, which any database can take in. PostgreSQL always gives those; SQLite gives
        a SQLite file otherwise.

    Returns
    -------
    Path
        The same.

    Raises
    ------
    StoreProblem
        If something stands there, or it cannot be written.

    Notes
    -----
    Who may enter (devices, their sessions, codes) is in no backup.
    """
    with _whole(path) as part:
        if as_text or not is_sqlite(access.engine):
            _write_text(access, part)
        else:
            _copy_file(access, part)
            check_file(part)
    return path


def sync(path: Path) -> None:
    """Wait until the disk has a file."""
    _wait_for(path, os.O_RDWR)


def sync_folder(path: Path) -> None:
    """Wait until the disk has the names in a folder; Windows has no such wait."""
    if os.name == "posix":
        _wait_for(path, os.O_RDONLY)


def _wait_for(path: Path, flags: int) -> None:
    handle = os.open(path, flags)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def _whole(path: Path) -> Iterator[Path]:
    """Give a file beside the path, and let it take the path when it is complete."""
    if path.exists():
        raise StoreProblem(str(path), "stands there already", "choose a name that is not taken")
    part = path.with_name(path.name + ".part")
    try:
        os.close(os.open(part, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600))
        try:
            yield part
            sync(part)
            part.rename(path)
        finally:
            part.unlink(missing_ok=True)
        sync_folder(path.parent)
    except OSError as refused:
        raise StoreProblem(str(path), f"cannot be written ({refused.strerror})", LOOK) from refused


def _write_text(access: Access, part: Path) -> None:
    with access.reading() as connection, part.open("w", encoding="ascii", newline="\n") as out:
        revision = revision_of(connection) or ""
        out.writelines(dump_lines(connection, revision, access.at()))


def _copy_file(access: Access, part: Path) -> None:
    """Copy the database page by page, then take out who may enter."""
    try:
        with (
            closing(access.engine.raw_connection()) as source,
            closing(sqlite3.connect(part, isolation_level=None)) as target,
        ):
            driver = source.driver_connection
            if not isinstance(driver, sqlite3.Connection):
                raise TypeError(f"not a SQLite connection: {driver!r}")
            driver.backup(target)
            target.execute("pragma journal_mode=delete")
            target.execute("pragma secure_delete=on")
            for table in reversed(DOOR):
                target.execute(f'delete from "{table.name}"')  # noqa: S608 (our own names)
            target.execute("vacuum")
    except sqlite3.Error as failed:
        raise problem_of(str(part), str(failed)) from failed
