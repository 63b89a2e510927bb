"""Whether a SQLite file is sound and ours, before anything is done with it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from loomwright.store.migrate import APPLICATION_ID
from loomwright.store.problem import RESTORE, StoreProblem, problem_of


def check_file(path: Path) -> None:
    """See that a file is a sound store, or is new.

    Raises
    ------
    StoreProblem
        If it is damaged, is something else, or cannot be read.
    """
    if not path.exists():
        return
    if _lost_its_head(path):
        raise StoreProblem(str(path), "is damaged (empty, with changes left beside it)", RESTORE)
    try:
        with closing(sqlite3.connect(path)) as connection:
            _check(connection, str(path))
    except sqlite3.Error as failed:
        raise problem_of(str(path), str(failed)) from failed


def beside(path: Path) -> tuple[Path, ...]:
    """Return the file and the two that SQLite keeps beside it."""
    return (path, path.with_name(path.name + "-wal"), path.with_name(path.name + "-shm"))


def _lost_its_head(path: Path) -> bool:
    """Return whether a file of length 0 has changes waiting, which SQLite would throw away."""
    log = beside(path)[1]
    if not path.is_file() or path.stat().st_size:
        return False
    return log.exists() and log.stat().st_size > 0


def _check(connection: sqlite3.Connection, where: str) -> None:
    (said,) = connection.execute("pragma quick_check(1)").fetchone()
    if said != "ok":
        raise StoreProblem(where, f"is damaged ({said.splitlines()[0]})", RESTORE)
    (application,) = connection.execute("pragma application_id").fetchone()
    (tables,) = connection.execute("select count(*) from sqlite_schema").fetchone()
    if application != APPLICATION_ID and (tables or application):
        fix = "choose another file: this one belongs to another program"
        raise StoreProblem(where, "is no store of Loomwright", fix)
