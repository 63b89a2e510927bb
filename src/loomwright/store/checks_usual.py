"""Readings that are normal for a vehicle: remembered with its wire map, for the next like it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update

from loomwright.invalid import InvalidInput
from loomwright.observations.observation import Observation, from_plain, to_plain
from loomwright.store.access import Access
from loomwright.store.checks_values import LightCheck
from loomwright.store.entry import checked_name, findable, folded
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import USUAL_READINGS
from loomwright.store.wire_maps import name_fits, standing_maps

TOPIC = "usual-reading"


@dataclass(frozen=True, slots=True)
class UsualReading:
    """A reading somebody found normal for a vehicle; `fits` is a pattern of vehicle names."""

    id: str
    vehicle: str
    fits: str
    map_id: str | None
    check_id: str
    observation: Observation
    kept_at: datetime
    kept_by: str


@dataclass(frozen=True, slots=True)
class UsualReadings:
    """The readings that are normal for vehicles, of a store."""

    access: Access

    def usual_for(self, vehicle: str) -> tuple[UsualReading, ...]:
        """Return what is normal for a vehicle of this name, the newest first."""
        name = folded(vehicle)
        standing = select(USUAL_READINGS).where(USUAL_READINGS.c.retired_at.is_(None))
        newest = standing.order_by(USUAL_READINGS.c.kept_at.desc(), USUAL_READINGS.c.id)
        with self.access.reading() as connection:
            found = connection.execute(newest).all()
        return tuple(_usual(row) for row in found if name_fits(row.fits, name))

    def retire(self, usual_id: str, who: str) -> None:
        """Take a reading for normal no more; nothing happens if it is retired already.

        Parameters
        ----------
        usual_id : str
            Which reading.
        who : str
            Who retires it.

        Raises
        ------
        InvalidInput
            If there is no such reading, or `who` is no name.
        """
        who, at = checked_name(who, "who"), self.access.at()
        mine = USUAL_READINGS.c.id == findable(usual_id)
        with self.access.writing() as connection:
            row = connection.execute(select(USUAL_READINGS).where(mine)).first()
            if row is None:
                raise InvalidInput("usual reading", usual_id, "choose a reading from the list")
            if row.retired_at is None:
                away = update(USUAL_READINGS).where(mine).values(retired_at=at, retired_by=who)
                connection.execute(away)
                said = {"what": "retired", "vehicle": row.vehicle}
                add_event(connection, self.access, Happening(f"{TOPIC}/{row.id}", said, who))


def remember(
    connection: Connection, access: Access, check: LightCheck, observation: Observation, who: str
) -> None:
    """Keep a reading as normal for the vehicle of a check, in a transaction that writes already.

    It holds for the vehicles of the newest wire map that fits, else for those of the same name;
    for a vehicle without a name nothing is kept.
    """
    if not check.vehicle:
        return
    name = folded(check.vehicle)
    maps = connection.execute(standing_maps()).all()
    known = next((row for row in maps if name_fits(row.fits, name)), None)
    pattern = check.vehicle if known is None else known.fits
    standing = select(USUAL_READINGS).where(USUAL_READINGS.c.retired_at.is_(None))
    same = connection.execute(standing.where(USUAL_READINGS.c.fits == pattern)).all()
    if any(_usual(row).observation == observation for row in same):
        return
    values = {
        "id": access.new_id(),
        "vehicle": check.vehicle,
        "fits": pattern,
        "map_id": None if known is None else known.id,
        "check_id": check.id,
        "observation": json.dumps(to_plain(observation), sort_keys=True, allow_nan=False),
        "kept_at": access.at(),
        "kept_by": who,
    }
    connection.execute(insert(USUAL_READINGS).values(values))
    said = {"what": "kept", "vehicle": check.vehicle}
    add_event(connection, access, Happening(f"{TOPIC}/{values['id']}", said, who))


def _usual(row: Row[Any]) -> UsualReading:
    said = {name: row._mapping[name] for name in UsualReading.__slots__}
    return UsualReading(**{**said, "observation": from_plain(json.loads(row.observation))})
