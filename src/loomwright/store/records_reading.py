"""Looking at records and their photos."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, select

from loomwright.invalid import InvalidInput
from loomwright.store.access import Access
from loomwright.store.entry import findable, within
from loomwright.store.photos import photo_in
from loomwright.store.records_values import KeptPhoto, Record, State, record_of
from loomwright.store.tables import RECORDS

CHOOSE = "choose a record from the list: there is none of this id"


@dataclass(frozen=True, slots=True)
class RecordReading:
    """The records of a store, to look at."""

    access: Access

    def record(self, record_id: str, version: int | None = None) -> Record:
        """Return a version of a record: the newest if none is named.

        Raises
        ------
        InvalidInput
            If there is none.
        """
        with self.access.reading() as connection:
            return record_of(row_of(connection, record_id, version))

    def history(self, record_id: str) -> tuple[Record, ...]:
        """Return every version of a record, the first one first."""
        mine = select(RECORDS).where(RECORDS.c.id == findable(record_id))
        with self.access.reading() as connection:
            found = connection.execute(mine.order_by(RECORDS.c.version))
            return tuple(record_of(row) for row in found)

    def records(self, rig_id: str | None = None) -> tuple[Record, ...]:
        """Return every version of every record, of one rig or of all, the newest first."""
        wanted = select(RECORDS).order_by(
            RECORDS.c.made_at.desc(), RECORDS.c.version.desc(), RECORDS.c.id
        )
        if rig_id is not None:
            wanted = wanted.where(RECORDS.c.rig_id == findable(rig_id))
        with self.access.reading() as connection:
            return tuple(record_of(row) for row in connection.execute(wanted))

    def draft_of(self, rig_id: str) -> Record | None:
        """Return the draft that is open for a rig, None if there is none."""
        wanted = select(RECORDS).where(
            RECORDS.c.rig_id == findable(rig_id), RECORDS.c.state == State.DRAFT
        )
        with self.access.reading() as connection:
            row = connection.execute(wanted).first()
        return None if row is None else record_of(row)

    def photo(self, sha256: str) -> KeptPhoto:
        """Return a photo by the sum of its bytes.

        Raises
        ------
        InvalidInput
            If there is none.
        """
        with self.access.reading() as connection:
            return photo_in(connection, sha256)


def row_of(connection: Connection, record_id: str, version: int | None) -> Row[Any]:
    """Return the row of a version of a record, of the newest if none is named.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    wanted = select(RECORDS).where(RECORDS.c.id == findable(record_id))
    if version is not None:
        wanted = wanted.where(RECORDS.c.version == within(version))
    row = connection.execute(wanted.order_by(RECORDS.c.version.desc()).limit(1)).first()
    if row is None:
        raise InvalidInput("record", record_id, CHOOSE)
    return row


def newest_row(connection: Connection, record_id: str) -> Row[Any]:
    """Return the row of the newest version of a record.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    return row_of(connection, record_id, None)


def draft_row(connection: Connection, record_id: str) -> Row[Any]:
    """Return the row of the draft of a record.

    Raises
    ------
    InvalidInput
        If there is no such record, or its newest version is signed.
    """
    row = newest_row(connection, record_id)
    if row.state != State.DRAFT:
        raise InvalidInput("record", record_id, "it is signed: correct it by a new version")
    return row
