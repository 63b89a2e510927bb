"""Sessions: one stretch of work on a device, over when nobody has used it for a while."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, delete, insert, select, update

from loomwright.store.access import Access
from loomwright.store.devices import Device, NotPaired, device_of
from loomwright.store.tables import DEVICES, SESSIONS
from loomwright.store.tokens import new_token, token_hash

SESSION_LASTS = timedelta(hours=12)
NOTED_EVERY = timedelta(minutes=1)
"""How often a use is written down: not at every look at a page."""


@dataclass(frozen=True, slots=True)
class Session:
    """A session, its device, and until when it holds if it is not used again."""

    device: Device
    begun_at: datetime
    expires_at: datetime


@dataclass(frozen=True, slots=True)
class BegunSession:
    """A session just begun, and its token: this is the only time it is told."""

    session: Session
    token: str


@dataclass(frozen=True, slots=True)
class Sessions:
    """The sessions of a store."""

    access: Access

    def begin(self, device_token: str) -> BegunSession:
        """Begin a session for the device that has this token.

        Raises
        ------
        NotPaired
            If no device has it, or the device was dropped.
        """
        at, token = self.access.at(), new_token(self.access.random_bytes)
        wanted = update(DEVICES).where(DEVICES.c.token_hash == token_hash(device_token))
        with self.access.writing() as connection:
            row = connection.execute(wanted.values(seen_at=at).returning(DEVICES)).first()
            if row is None:
                raise NotPaired
            connection.execute(delete(SESSIONS).where(SESSIONS.c.expires_at <= at))
            until = at + SESSION_LASTS
            times = {"begun_at": at, "seen_at": at, "expires_at": until}
            values = {"token_hash": token_hash(token), "device_id": row.id, **times}
            connection.execute(insert(SESSIONS).values(values))
        return BegunSession(Session(device_of(row), at, until), token)

    def session_for(self, token: str) -> Session:
        """Return the session that has this token, and note that it is in use.

        Raises
        ------
        NotPaired
            If there is none, it has run out, or its device was dropped.
        """
        at, hashed = self.access.at(), token_hash(token)
        wanted = select(SESSIONS).where(SESSIONS.c.token_hash == hashed)
        with self.access.reading() as connection:
            row = connection.execute(wanted.where(SESSIONS.c.expires_at > at)).first()
            if row is None:
                raise NotPaired
            device = _device(connection, row.device_id)
        if at - row.seen_at < NOTED_EVERY:
            return Session(device, row.begun_at, row.expires_at)
        return self._note(hashed, row.begun_at)

    def end(self, token: str) -> None:
        """End a session; nothing happens if it has ended already."""
        with self.access.writing() as connection:
            connection.execute(delete(SESSIONS).where(SESSIONS.c.token_hash == token_hash(token)))

    def _note(self, hashed: str, begun_at: datetime) -> Session:
        at = self.access.at()
        until = at + SESSION_LASTS
        noting = update(SESSIONS).where(SESSIONS.c.token_hash == hashed)
        noting = noting.values(seen_at=at, expires_at=until)
        with self.access.writing() as connection:
            row = connection.execute(noting.returning(SESSIONS.c.device_id)).first()
            if row is None:
                raise NotPaired  # dropped between looking and noting
            seen = update(DEVICES).where(DEVICES.c.id == row.device_id).values(seen_at=at)
            connection.execute(seen)
            return Session(_device(connection, row.device_id), begun_at, until)


def _device(connection: Connection, device_id: str) -> Device:
    return device_of(connection.execute(select(DEVICES).where(DEVICES.c.id == device_id)).one())
