"""Devices: who may enter over the shop's network, let in by a code that works once."""

from __future__ import annotations

import hmac
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Row, delete, insert, select, update

from loomwright.invalid import InvalidInput
from loomwright.store.access import Access
from loomwright.store.entry import checked_name, findable
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import DEVICES, PAIRING_CODES, SESSIONS
from loomwright.store.tokens import code_hash, new_code, new_token, token_hash

CODE_LASTS = timedelta(minutes=10)
TRIES = 5
TOPIC = "device"


@dataclass(frozen=True, slots=True)
class Device:
    """A phone, a tablet or a computer that was let in; `dropped_at` is None while it may enter."""

    id: str
    name: str
    paired_at: datetime
    paired_by: str
    seen_at: datetime
    dropped_at: datetime | None


@dataclass(frozen=True, slots=True)
class PairingCode:
    """A code to type or scan on the new device, and until when it works."""

    code: str
    expires_at: datetime


@dataclass(frozen=True, slots=True)
class PairedDevice:
    """A device just let in, and the token it must keep: this is the only time it is told."""

    device: Device
    token: str


class PairingRefused(InvalidInput):
    """A code that does not let in; `tries_left` more may be tried before it stops working."""

    def __init__(self, fix: str, tries_left: int) -> None:
        super().__init__("code", "not the code", fix)
        self.tries_left = tries_left


class NotPaired(InvalidInput):
    """A token that lets nobody in: unknown, run out, or of a device that was dropped."""

    def __init__(self) -> None:
        super().__init__("device", "not paired", "pair it again: make a code on the workbench")


@dataclass(frozen=True, slots=True)
class Devices:
    """The devices of a store."""

    access: Access

    def new_pairing_code(self, who: str) -> PairingCode:
        """Return a code for one new device; any code made before stops working.

        It works once, for ten minutes and five tries.

        Raises
        ------
        InvalidInput
            If `who` is no name.
        """
        who, at = checked_name(who, "who"), self.access.at()
        code = new_code(self.access.random_bytes)
        salt = self.access.random_bytes(16).hex()
        row = {
            "id": self.access.new_id(),
            "salt": salt,
            "code_hash": code_hash(code, salt),
            "tries_left": TRIES,
            "made_at": at,
            "made_by": who,
            "expires_at": at + CODE_LASTS,
        }
        with self.access.writing() as connection:
            connection.execute(delete(PAIRING_CODES))
            connection.execute(insert(PAIRING_CODES).values(row))
        return PairingCode(code, at + CODE_LASTS)

    def pair(self, code: str, name: str) -> PairedDevice:
        """Let a device in that shows the code.

        Parameters
        ----------
        code : str
            What was typed or scanned.
        name : str
            What the device shall be called.

        Raises
        ------
        PairingRefused
            If it is not the code, or the code was used, has run out or was tried too often.
        InvalidInput
            If `name` is no name.
        """
        name = checked_name(name, "name")
        with self.access.writing() as connection:
            answer = self._try(connection, code, name)
        if isinstance(answer, PairingRefused):
            raise answer  # only now: the try must count
        return answer

    def admit(self, name: str, who: str) -> PairedDevice:
        """Let a device in without a code: the computer the workbench itself runs on.

        Parameters
        ----------
        name : str
            What it shall be called.
        who : str
            Who lets it in.

        Raises
        ------
        InvalidInput
            If a name cannot be used.
        """
        name, who = checked_name(name, "name"), checked_name(who, "who")
        with self.access.writing() as connection:
            return self._add(connection, name, who)

    def devices(self, *, dropped: bool = False) -> tuple[Device, ...]:
        """Return the devices that may enter, or those that were dropped; the newest first."""
        gone = DEVICES.c.dropped_at.is_not(None) if dropped else DEVICES.c.dropped_at.is_(None)
        wanted = select(DEVICES).where(gone).order_by(DEVICES.c.paired_at.desc(), DEVICES.c.id)
        with self.access.reading() as connection:
            return tuple(device_of(row) for row in connection.execute(wanted))

    def drop_device(self, device_id: str, who: str) -> Device:
        """Shut a device out at once, with all its sessions; nothing happens if it is out already.

        Parameters
        ----------
        device_id : str
            Which device.
        who : str
            Who shuts it out.

        Raises
        ------
        InvalidInput
            If there is no such device, or `who` is no name.
        """
        who, at = checked_name(who, "who"), self.access.at()
        with self.access.writing() as connection:
            wanted = select(DEVICES).where(DEVICES.c.id == findable(device_id))
            found = connection.execute(wanted).first()
            if found is None:
                raise InvalidInput("device", device_id, "choose a device from the list")
            if found.dropped_at is not None:
                return device_of(found)
            connection.execute(delete(SESSIONS).where(SESSIONS.c.device_id == device_id))
            gone = {"token_hash": None, "dropped_at": at, "dropped_by": who}
            dropping = update(DEVICES).where(DEVICES.c.id == device_id).values(gone)
            row = connection.execute(dropping.returning(DEVICES)).one()
            said = {"what": "dropped", "name": row.name}
            add_event(connection, self.access, Happening(f"{TOPIC}/{device_id}", said, who))
            return device_of(row)

    def _try(self, connection: Connection, code: str, name: str) -> PairedDevice | PairingRefused:
        again = "make a new code on the workbench"
        open_code = connection.execute(select(PAIRING_CODES)).first()
        if open_code is None or open_code.expires_at <= self.access.at():
            connection.execute(delete(PAIRING_CODES))
            return PairingRefused(f"{again}: this one was used or has run out", 0)
        if hmac.compare_digest(code_hash(code, open_code.salt), open_code.code_hash):
            connection.execute(delete(PAIRING_CODES))
            return self._add(connection, name, open_code.made_by)
        left = open_code.tries_left - 1
        if left == 0:
            connection.execute(delete(PAIRING_CODES))
            return PairingRefused(f"{again}: this one was tried too often", 0)
        connection.execute(update(PAIRING_CODES).values(tries_left=left))
        return PairingRefused(f"look at the code again: {left} more may be tried", left)

    def _add(self, connection: Connection, name: str, who: str) -> PairedDevice:
        at, token = self.access.at(), new_token(self.access.random_bytes)
        row = {
            "id": self.access.new_id(),
            "name": name,
            "token_hash": token_hash(token),
            "paired_at": at,
            "paired_by": who,
            "seen_at": at,
        }
        added = connection.execute(insert(DEVICES).values(row).returning(DEVICES)).one()
        said = {"what": "paired", "name": name}
        add_event(connection, self.access, Happening(f"{TOPIC}/{added.id}", said, who))
        return PairedDevice(device_of(added), token)


def device_of(row: Row[Any]) -> Device:
    """Return the device a row holds."""
    values = row._mapping
    return Device(**{name: values[name] for name in Device.__slots__})
