"""Rows of rigs and versions, in a transaction that is open already."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update

from loomwright.invalid import InvalidInput
from loomwright.store.access import Access
from loomwright.store.card import Card
from loomwright.store.entry import findable, within
from loomwright.store.events import Happening, add_event
from loomwright.store.rig_values import RigEntry, Version
from loomwright.store.tables import RIGS, VERSIONS

TOPIC = "rig"


@dataclass(frozen=True, slots=True)
class Writing:
    """What is about to become a version: its text and card, what changed, who did it.

    `stands_at` is the version whose text is brought back; None for a text of its own.
    """

    text: str
    card: Card
    change: str
    who: str
    stands_at: int | None = None


def rig_row(connection: Connection, rig_id: str) -> Row[Any]:
    """Return the row of a rig.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    row = connection.execute(select(RIGS).where(RIGS.c.id == findable(rig_id))).first()
    if row is None:
        raise InvalidInput("rig", rig_id, "choose a rig from the list: there is none of this id")
    return row


def version_row(connection: Connection, rig_id: str, number: int) -> Row[Any]:
    """Return the row of a version.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    wanted = select(VERSIONS).where(VERSIONS.c.rig_id == findable(rig_id))
    row = connection.execute(wanted.where(VERSIONS.c.number == within(number))).first()
    if row is None:
        raise InvalidInput("version", number, "choose a version from the history of the rig")
    return row


def add_rig(connection: Connection, access: Access, writing: Writing) -> RigEntry:
    """Add a rig with its first version."""
    at, rig_id = access.at(), access.new_id()
    row = {
        **_card_columns(writing.card),
        "id": rig_id,
        "archived": False,
        "version": 1,
        "created_at": at,
        "created_by": writing.who,
        "updated_at": at,
        "updated_by": writing.who,
    }
    added = connection.execute(insert(RIGS).values(row).returning(RIGS)).one()
    _add_version(connection, access, (rig_id, 1, at), writing)
    return entry_of(added)


def add_version(connection: Connection, access: Access, rig: Row[Any], writing: Writing) -> Version:
    """Add a version after the newest, and let the rig's row say what it says."""
    at, number = access.at(), rig.version + 1
    columns = {
        **_card_columns(writing.card),
        "version": number,
        "updated_at": at,
        "updated_by": writing.who,
    }
    connection.execute(update(RIGS).where(RIGS.c.id == rig.id).values(columns))
    return _add_version(connection, access, (rig.id, number, at), writing)


def shelve(connection: Connection, access: Access, rig_id: str, away: bool, who: str) -> RigEntry:
    """Put a rig away or fetch it back; nothing happens if it is there already."""
    row = rig_row(connection, rig_id)
    if row.archived == away:
        return entry_of(row)
    change = update(RIGS).where(RIGS.c.id == rig_id).values(archived=away).returning(RIGS)
    said = {"what": "archived" if away else "unarchived"}
    add_event(connection, access, Happening(f"{TOPIC}/{rig_id}", said, who))
    return entry_of(connection.execute(change).one())


def stands(connection: Connection, rig_id: str) -> list[int]:
    """Return for each version, in order, the version whose text it brought back, or its own."""
    wanted = select(VERSIONS.c.stands_at).where(VERSIONS.c.rig_id == rig_id)
    return list(connection.execute(wanted.order_by(VERSIONS.c.number)).scalars())


def entry_of(row: Row[Any]) -> RigEntry:
    """Return the entry a row holds."""
    values = row._mapping
    return RigEntry(**{name: values[name] for name in RigEntry.__slots__})


def version_of(row: Row[Any]) -> Version:
    """Return the version a row holds."""
    values = row._mapping
    return Version(**{name: values[name] for name in Version.__slots__})


def card_in(row: Row[Any]) -> Card:
    """Return the card a rig's row holds."""
    values = row._mapping
    return Card(**{name: values[name] for name in Card.__slots__})


def _add_version(
    connection: Connection, access: Access, where: tuple[str, int, datetime], writing: Writing
) -> Version:
    rig_id, number, at = where
    row = {
        "rig_id": rig_id,
        "number": number,
        "text": writing.text,
        "usable": writing.card.usable,
        "change": writing.change,
        "stands_at": writing.stands_at or number,
        "at": at,
        "who": writing.who,
    }
    added = connection.execute(insert(VERSIONS).values(row).returning(VERSIONS)).one()
    said = {"what": "saved", "version": number, "change": writing.change}
    add_event(connection, access, Happening(f"{TOPIC}/{rig_id}", said, writing.who))
    return version_of(added)


def _card_columns(card: Card) -> dict[str, Any]:
    return {name: getattr(card, name) for name in Card.__slots__}
