"""Finding a record by what a person types: its id, the number it is printed with, its rig."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loomwright.cli.shop import rigs_called
from loomwright.invalid import InvalidInput

if TYPE_CHECKING:
    from loomwright.store.records_values import Record
    from loomwright.store.store import Store


def record_called(store: Store, said: str, version: int | None = None) -> Record:
    """Return the record of an id, of the number it is printed with, or the newest of a rig.

    Raises
    ------
    InvalidInput
        If there is none, or more than one.
    """
    low = said.strip().casefold().replace("-", "")
    ids = {one.id for one in store.records.records() if low and one.id.startswith(low)}
    if not ids and len(rigs := rigs_called(store, said)) == 1:
        ids = {one.id for one in store.records.records(rigs[0].id)[:1]}
    if len(ids) != 1:
        fix = "`loomwright record list` shows them" if not ids else "give more of its number"
        raise InvalidInput("record", said, f"there is no one record of this number: {fix}")
    return store.records.record(ids.pop(), version)


def short_number(record: Record) -> str:
    """Return the number a record is called by, as it is printed."""
    return f"{record.id[:4]}-{record.id[4:8]}".upper()
