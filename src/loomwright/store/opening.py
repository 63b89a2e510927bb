"""Opening a store: checked, and brought to the present version, before anything is read."""

from __future__ import annotations

import os
import secrets
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from itertools import count
from pathlib import Path

from sqlalchemy import Engine

from loomwright.store.access import Access, utc_now
from loomwright.store.backup import sync
from loomwright.store.engine import is_sqlite, make_engine, where
from loomwright.store.migrate import known_revision, migrate, revisions
from loomwright.store.problem import LOOK, StoreProblem, problem_of
from loomwright.store.soundness import check_file
from loomwright.store.store import Store


def open_store(
    place: str | Path,
    *,
    now: Callable[[], datetime] = utc_now,
    random_bytes: Callable[[int], bytes] = secrets.token_bytes,
) -> Store:
    """Return the store at a place; a new one, if nothing is there.

    Parameters
    ----------
    place : str or Path
        A file, or the address of a PostgreSQL database.
    now : callable
        Gives the time; must know its zone.
    random_bytes : callable
        Gives that many bytes nobody can guess.

    Raises
    ------
    StoreProblem
        If it is damaged, is something else, was written by a newer version, or cannot be reached.
    """
    engine = make_engine(place)
    try:
        if is_sqlite(engine):
            _ready_file(Path(where(engine)))
        bring_up(engine)
    except BaseException:
        engine.dispose()
        raise
    return Store(Access(engine, now, random_bytes))


def bring_up(engine: Engine) -> None:
    """Bring a database to the present version; a file of an earlier one is copied first.

    Raises
    ------
    StoreProblem
        If it is something else, was written by a newer version, or cannot be written.
    """
    revision = known_revision(engine)
    if revision == revisions()[-1]:
        return
    if revision is not None and is_sqlite(engine):
        _copy_aside(Path(where(engine)), revision)
    migrate(engine)


def _ready_file(path: Path) -> None:
    """Make sure the file is sound, or can be made; customers' names are nobody else's business."""
    check_file(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    except OSError as refused:
        what = f"cannot be written ({refused.strerror})"
        raise StoreProblem(str(path), what, LOOK) from refused


def _copy_aside(path: Path, revision: str) -> None:
    """Copy the file as it was, under a name that is free.

    Raises
    ------
    StoreProblem
        If there is no room for it.
    """
    try:
        copy = _free_name(path, revision)
        with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(copy)) as target:
            source.backup(target)
            target.execute("pragma journal_mode=delete")
        sync(copy)
    except sqlite3.Error as failed:
        raise problem_of(str(path), str(failed)) from failed


def _free_name(path: Path, revision: str) -> Path:
    """Return a new file beside a file, for its owner alone."""
    for number in count():
        copy = path.with_name(f"{path.name}.{revision}" + (f"-{number}" if number else ""))
        try:
            os.close(os.open(copy, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
        except FileExistsError:
            continue
        except OSError as refused:
            what = f"cannot be copied ({refused.strerror})"
            raise StoreProblem(str(path), what, LOOK) from refused
        return copy
    raise AssertionError("counting has no end")
