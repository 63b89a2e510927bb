"""Finding a rig or a record by what a person types: its id, the start of it, or its name."""

from __future__ import annotations

import getpass
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cyclopts import Parameter

from loomwright.cli.files import read_text
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.records_values import Record
    from loomwright.store.rig_values import RigEntry
    from loomwright.store.store import Store

SHORT = 8


@Parameter(name="*")
@dataclass(frozen=True, slots=True)
class Shop:
    """Where the shop's rigs and records are kept.

    Parameters
    ----------
    data
        Folder of the shop's data; else this user's own.
    database
        Address of the PostgreSQL database, if the rigs are kept in one.
    """

    data: Path | None = None
    database: str | None = None


OWN = Shop()
"""This user's own shop."""


@contextmanager
def opened(shop: Shop) -> Iterator[Store]:
    """Open the shop's store."""
    from loomwright.store.opening import open_store
    from loomwright.web.serving import place_of

    with open_store(place_of(shop.data, shop.database).store) as store:
        yield store


def user() -> str:
    """Return what the machine calls the person who types."""
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "command line"


def rig_called(store: Store, said: str) -> RigEntry:
    """Return the rig of an id, of the start of one, of a name, or of a job file it was made from.

    Raises
    ------
    InvalidInput
        If there is none, or more than one.
    """
    found = _rigs(store, said)
    if len(found) != 1:
        rigs = store.rigs.search(archived=None)
        known = "; ".join(f"{rig.id[:SHORT]} {rig.name}" for rig in found or rigs) or "none yet"
        which = "name one of" if found else "there is no such rig; there are"
        raise InvalidInput("rig", said, f"{which}: {known}")
    return found[0]


def rig_brought(store: Store, said: str, who: str) -> RigEntry:
    """Return the rig a person names; a job file that is not there yet is taken in.

    Raises
    ------
    InvalidInput
        If there is none, or more than one, or the file cannot be read.
    """
    file = Path(said)
    if file.is_file() and not _rigs(store, said):
        return store.rigs.import_text(read_text(file), who, file.name)
    return rig_called(store, said)


def _rigs(store: Store, said: str) -> list[RigEntry]:
    """Return the rigs that are meant: by job file, by name or id, by the start of an id."""
    rigs, file, low = store.rigs.search(archived=None), Path(said), said.strip().casefold()
    if file.is_file():
        text = read_text(file)
        return [rig for rig in rigs if store.rigs.newest(rig.id).text == text][:1]
    found = [rig for rig in rigs if rig.name.casefold() == low or rig.id == low]
    return found or [rig for rig in rigs if low and rig.id.startswith(low)]


def record_called(store: Store, said: str, version: int | None = None) -> Record:
    """Return the record of an id, of the number it is printed with, or the newest of a rig.

    Raises
    ------
    InvalidInput
        If there is none, or more than one.
    """
    low = said.strip().casefold().replace("-", "")
    ids = {one.id for one in store.records.records() if low and one.id.startswith(low)}
    if not ids and len(rigs := _rigs(store, said)) == 1:
        ids = {one.id for one in store.records.records(rigs[0].id)[:1]}
    if len(ids) != 1:
        fix = "`loomwright record list` shows them" if not ids else "give more of its number"
        raise InvalidInput("record", said, f"there is no one record of this number: {fix}")
    return store.records.record(ids.pop(), version)


def short_number(record: Record) -> str:
    """Return the number a record is called by, as it is printed."""
    return f"{record.id[:4]}-{record.id[4:8]}".upper()
