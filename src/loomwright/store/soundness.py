"""Whether a SQLite file is sound and ours, before anything is done with it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from loomwright.store.migrate import APPLICATION_ID
from loomwright.store.problem import RESTORE, StoreProblem, problem_of

SQLITE_HEAD = b"SQLite format 3\0"


def check_file(path: Path) -> None:
    """See that a file is a sound store, or is new.

    Raises
    ------
    StoreProblem
        If it is damaged, is something else, or cannot be read.
    """
    if not path.is_file():
        return
    if (what := _misshapen(path)) is not None:
        raise StoreProblem(str(path), f"is damaged ({what})", RESTORE)
    try:
        with closing(sqlite3.connect(path)) as connection:
            connection.text_factory = bytes  # what is damaged may be no text
            _check(connection, str(path))
    except sqlite3.Error as failed:
        raise problem_of(str(path), str(failed)) from failed


def beside(path: Path) -> tuple[Path, ...]:
    """Return the file and the two that SQLite keeps beside it."""
    return (path, path.with_name(path.name + "-wal"), path.with_name(path.name + "-shm"))


def _misshapen(path: Path) -> str | None:
    """Return what is wrong with the size or the head of a file; SQLite would overlook it.

    References
    ----------
    sqlite.org/fileformat2.html, "The Database Header": the first 16 bytes; the page size in the
    two bytes after them, where 1 stands for 65536.
    """
    log, size = beside(path)[1], path.stat().st_size
    has_log = log.exists() and log.stat().st_size > 0
    if size == 0:
        return "empty, with changes left beside it" if has_log else None
    with path.open("rb") as file:
        head = file.read(18)
    if not head.startswith(SQLITE_HEAD):
        return "its first bytes are not those of a database"
    page = int.from_bytes(head[16:], "big")
    if size % (65536 if page == 1 else page or 1) and not has_log:
        return "its last page is cut short"
    return None


def _check(connection: sqlite3.Connection, where: str) -> None:
    (said,) = connection.execute("pragma quick_check(1)").fetchone()
    if said != b"ok":
        line = said.decode("utf-8", "replace").splitlines()[0]
        raise StoreProblem(where, f"is damaged ({line})", RESTORE)
    (application,) = connection.execute("pragma application_id").fetchone()
    (tables,) = connection.execute("select count(*) from sqlite_schema").fetchone()
    if application != APPLICATION_ID and (tables or application):
        fix = "choose another file: this one belongs to another program"
        raise StoreProblem(where, "is no store of Loomwright", fix)
