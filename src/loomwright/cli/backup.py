"""`loomwright backup`: all that the workbench keeps, in one file."""

from __future__ import annotations

from pathlib import Path

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page


def backup(file: Path, *, data: Path | None = None, database: str | None = None) -> int:
    """Write all that the workbench keeps to FILE, while it may go on running.

    Parameters
    ----------
    file
        Backup to write; must not exist.
    data
        Folder of the shop's data; else this user's own.
    database
        Address of the PostgreSQL database, if the rigs are kept in one.
    """
    from loomwright.store.opening import open_store
    from loomwright.web.machine import place_of

    with open_store(place_of(data, database).store) as store:
        store.backup(file)
    Page().line(f"Backup: {file}")
    return DONE
