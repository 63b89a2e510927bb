"""The event log: what happened, in order, for screens that follow along and for whoever asks."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, func, insert, or_, select

from loomwright.store.access import Access
from loomwright.store.entry import checked_key, checked_name, checked_topic, findable, within
from loomwright.store.tables import EVENTS

MOST_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Happening:
    """What is about to become an event; `key` is the mark of the sender, if there is one."""

    topic: str
    payload: Mapping[str, Any]
    who: str = ""
    key: str | None = None


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened; `seq` counts from 1, in the order of writing."""

    seq: int
    topic: str
    payload: Mapping[str, Any]
    who: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Events:
    """The event log of a store."""

    access: Access

    def append_event(
        self, topic: str, payload: Mapping[str, Any], who: str = "", *, key: str | None = None
    ) -> Event:
        """Add an event, once for each key.

        Parameters
        ----------
        topic : str
            What it belongs to: words joined by slashes, such as ``light-check/7f``.
        payload : mapping
            What happened, as plain values.
        who : str
            Who did it.
        key : str, optional
            Mark of the sender. If an event has it already, that one is returned and nothing is
            added: what is sent again after a lost answer counts once.

        Raises
        ------
        InvalidInput
            If topic, name or key cannot be used.
        """
        checked_topic(topic)
        who = checked_name(who, "who") if who else ""
        with self.access.writing() as connection:
            if key is not None:
                known = select(EVENTS).where(EVENTS.c.key == checked_key(key))
                if (row := connection.execute(known).first()) is not None:
                    return _event(row)
            return add_event(connection, self.access, Happening(topic, payload, who, key))

    def events_since(
        self, seq: int, topic: str | None = None, limit: int = MOST_AT_ONCE
    ) -> tuple[Event, ...]:
        """Return what happened after an event, oldest first.

        Parameters
        ----------
        seq : int
            The last event that is known; 0 for all.
        topic : str, optional
            Only what belongs to it, or to a topic below it: ``rig`` takes ``rig/7f`` too.
        limit : int
            At most so many.
        """
        later = select(EVENTS).where(EVENTS.c.seq > within(seq))
        wanted = later.order_by(EVENTS.c.seq).limit(max(0, within(limit)))
        if topic is not None:
            topic = findable(topic)
            below = EVENTS.c.topic.startswith(f"{topic}/", autoescape=True)
            wanted = wanted.where(or_(EVENTS.c.topic == topic, below))
        with self.access.reading() as connection:
            return tuple(_event(row) for row in connection.execute(wanted))

    def newest(self) -> int:
        """Return the `seq` of the newest event; 0 if nothing has happened."""
        with self.access.reading() as connection:
            return newest_seq(connection)


def add_event(
    connection: Connection, access: Access, happening: Happening, *, above: int = 0
) -> Event:
    """Add an event in a transaction that writes already, and return it; its number is above."""
    row = {
        "seq": max(newest_seq(connection), above) + 1,
        "topic": happening.topic,
        "payload": json.dumps(happening.payload, sort_keys=True, allow_nan=False),
        "key": happening.key,
        "who": happening.who,
        "at": access.at(),
    }
    return _event(connection.execute(insert(EVENTS).values(row).returning(EVENTS)).one())


def newest_seq(connection: Connection) -> int:
    """Return the `seq` of the newest event; 0 if there is none."""
    return int(connection.execute(select(func.coalesce(func.max(EVENTS.c.seq), 0))).scalar_one())


def _event(row: Row[Any]) -> Event:
    return Event(row.seq, row.topic, json.loads(row.payload), row.who, row.at)
