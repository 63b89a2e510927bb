"""Wire maps: what the shop proved about a vehicle's wires, for the next one like it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, insert, select, update

from loomwright.invalid import InvalidInput
from loomwright.rig.read import read_job, read_rig
from loomwright.store import rig_rows as rows
from loomwright.store.access import Access
from loomwright.store.entry import checked_name, checked_text, findable, folded
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import MAPPED_WIRES, WIRE_MAPS

TOPIC = "wire-map"
LONGEST_NOTES = 10_000


@dataclass(frozen=True, slots=True)
class MappedWire:
    """One wire: function, colour in words, size, where it was found, and how that was proved."""

    function: str
    colour: str
    size: str
    found: str
    verified_how: str
    verified_at: datetime
    verified_by: str

    def as_feed(self) -> dict[str, str]:
        """Return it as a `vehicle.feed` of a job file."""
        said = {"function": self.function, "colour": self.colour, "size": self.size}
        return {key: value for key, value in (said | {"found": self.found}).items() if value}


@dataclass(frozen=True, slots=True)
class WireMap:
    """The wires of a vehicle; `fits` is a pattern of names of vehicles it holds for."""

    id: str
    vehicle: str
    fits: str
    notes: str
    rig_id: str | None
    kept_at: datetime
    kept_by: str
    wires: tuple[MappedWire, ...]


@dataclass(frozen=True, slots=True)
class WireMaps:
    """The wire maps of a store."""

    access: Access

    def keep_wire_map(
        self,
        rig_id: str,
        how: str | Mapping[str, str],
        who: str,
        *,
        fits: str = "",
        notes: str = "",
    ) -> WireMap:
        """Keep the vehicle wires of a rig that were proved.

        Parameters
        ----------
        rig_id : str
            The rig whose newest version is taken.
        how : str or mapping
            How they were proved; a mapping by function keeps only the wires it names.
        who : str
            Who proved them.
        fits : str
            Names of vehicles it holds for, ``*`` for any letters; the vehicle's name if left out.
        notes : str
            What else to know of such a vehicle.

        Raises
        ------
        InvalidInput
            If there is no such rig, it has no such wires, or an entry cannot be used.
        ExceptionGroup
            Of `InvalidInput`, if the rig is a draft that cannot be used.
        """
        who, at = checked_name(who, "who"), self.access.at()
        with self.access.reading() as connection:
            rig = rows.rig_row(connection, rig_id)
            text = rows.version_row(connection, rig_id, rig.version).text
        proved = _proved(text, how)
        name = checked_name(rig.vehicle or read_rig(text).vehicle.name, "vehicle.name")
        fits = checked_name(fits or name, "fits")
        values = {
            "id": self.access.new_id(),
            "vehicle": name,
            "fits": fits,
            "notes": checked_text(notes, "notes", LONGEST_NOTES),
            "words": folded(f"{name} {fits} {notes}"),
            "rig_id": rig_id,
            "kept_at": at,
            "kept_by": who,
        }
        each = {"map_id": values["id"], "verified_at": at, "verified_by": who}
        with self.access.writing() as connection:
            row = connection.execute(insert(WIRE_MAPS).values(values).returning(WIRE_MAPS)).one()
            connection.execute(insert(MAPPED_WIRES), [wire | each for wire in proved])
            said = {"what": "kept", "vehicle": name}
            add_event(connection, self.access, Happening(f"{TOPIC}/{row.id}", said, who))
            return _with_wires(connection, [row])[0]

    def wire_maps(self, search: str = "") -> tuple[WireMap, ...]:
        """Return the wire maps that have every word, the newest first."""
        wanted = standing_maps()
        for word in folded(findable(search)).split():
            wanted = wanted.where(WIRE_MAPS.c.words.contains(word, autoescape=True))
        with self.access.reading() as connection:
            return tuple(_with_wires(connection, connection.execute(wanted).all()))

    def wire_maps_for(self, vehicle: str) -> tuple[WireMap, ...]:
        """Return the wire maps that hold for a vehicle of this name, the newest first."""
        name = folded(vehicle)
        with self.access.reading() as connection:
            found = connection.execute(standing_maps()).all()
            fitting = [row for row in found if name_fits(row.fits, name)]
            return tuple(_with_wires(connection, fitting))

    def retire_wire_map(self, map_id: str, who: str) -> None:
        """Offer a wire map no more: it was found wrong; nothing happens if it is retired already.

        Parameters
        ----------
        map_id : str
            Which map.
        who : str
            Who retires it.

        Raises
        ------
        InvalidInput
            If there is no such map, or `who` is no name.
        """
        who, at = checked_name(who, "who"), self.access.at()
        mine = WIRE_MAPS.c.id == findable(map_id)
        with self.access.writing() as connection:
            row = connection.execute(select(WIRE_MAPS).where(mine)).first()
            if row is None:
                raise InvalidInput("wire map", map_id, "choose a wire map from the list")
            if row.retired_at is None:
                away = update(WIRE_MAPS).where(mine).values(retired_at=at, retired_by=who)
                connection.execute(away)
                said = {"what": "retired", "vehicle": row.vehicle}
                add_event(connection, self.access, Happening(f"{TOPIC}/{map_id}", said, who))


def _proved(text: str, how: str | Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the vehicle wires of a job file that were proved, as rows."""
    written, read = read_job(text).vehicle.feeds, read_rig(text).vehicle.feeds
    proofs = how if isinstance(how, Mapping) else {feed.function: how for feed in written}
    unknown = proofs.keys() - {feed.function for feed in written}
    if unknown or not proofs:
        fix = "name functions whose wires stand in the rig, and how each was proved"
        raise InvalidInput("how", ", ".join(sorted(unknown)) or "no wires", fix)
    pairs = [pair for pair in zip(written, read, strict=True) if pair[0].function in proofs]
    return [
        {
            "place": place,
            "function": said.function,
            "colour": feed.wire.colour.words if feed.wire.colour else "",
            "size": said.size or "",
            "found": said.found or "",
            "verified_how": checked_name(proofs[said.function], f"how.{said.function}"),
        }
        for place, (said, feed) in enumerate(pairs, start=1)
    ]


def standing_maps() -> Select[Any]:
    """Return the wire maps that are offered, the newest first."""
    wanted = select(WIRE_MAPS).where(WIRE_MAPS.c.retired_at.is_(None))
    return wanted.order_by(WIRE_MAPS.c.kept_at.desc(), WIRE_MAPS.c.id)


def name_fits(pattern: str, name: str) -> bool:
    """Return whether a name is one of a pattern's, with ``*`` for any letters."""
    first, *rest = folded(pattern).split("*")
    if not rest:
        return name == first
    if not name.startswith(first):
        return False
    at = len(first)
    for part in rest[:-1]:
        if (found := name.find(part, at)) < 0:
            return False
        at = found + len(part)
    return name.endswith(rest[-1]) and len(name) - at >= len(rest[-1])


def _with_wires(connection: Connection, found: Sequence[Row[Any]]) -> list[WireMap]:
    """Return maps with their wires, in the order of the rows."""
    ids = [row.id for row in found]
    wanted = select(MAPPED_WIRES).where(MAPPED_WIRES.c.map_id.in_(ids))
    wires: dict[str, list[MappedWire]] = {each: [] for each in ids}
    for row in connection.execute(wanted.order_by(MAPPED_WIRES.c.place)):
        values = row._mapping
        wire = MappedWire(**{name: values[name] for name in MappedWire.__slots__})
        wires[row.map_id].append(wire)
    return [_map(row, tuple(wires[row.id])) for row in found]


def _map(row: Row[Any], wires: tuple[MappedWire, ...]) -> WireMap:
    values = row._mapping
    said = {name: values[name] for name in WireMap.__slots__ if name != "wires"}
    return WireMap(**said, wires=wires)
