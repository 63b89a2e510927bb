"""`loomwright restore`: the workbench's store made anew from a backup."""

from __future__ import annotations

from pathlib import Path

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page

WHO = "loomwright restore"


def restore(file: Path, *, data: Path | None = None, database: str | None = None) -> int:
    """Make the workbench's store anew from the backup FILE.

    Stop the workbench first. The backup is checked before anything is replaced. A store file that
    is there, sound or damaged, is moved aside and not removed.

    Parameters
    ----------
    file
        Backup to read.
    data
        Folder of the shop's data; else this user's own.
    database
        Address of the PostgreSQL database, if the rigs are kept in one: what it holds is replaced.
    """
    from loomwright.store.opening import open_store
    from loomwright.store.restoring import restore_store
    from loomwright.web.machine import place_of

    if database is not None:
        with open_store(database) as store:
            store.restore(file, WHO)
    else:
        restore_store(place_of(data).store, file)
    Page().line(f"Restored: {file}")
    return DONE
