"""Keeping wires that were identified as a vehicle's wire map, as if they were described."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import insert

from loomwright.identify.identification import KeptWire
from loomwright.invalid import InvalidInput
from loomwright.store import rig_rows as rows
from loomwright.store.access import Access
from loomwright.store.entry import checked_name, checked_text, folded
from loomwright.store.events import Happening, add_event
from loomwright.store.tables import MAPPED_WIRES, WIRE_MAPS
from loomwright.store.wire_maps import LONGEST_NOTES, TOPIC


def keep_identified_wires(
    access: Access,
    rig_id: str,
    wires: Sequence[KeptWire],
    who: str,
    *,
    vehicle: str = "",
    notes: str = "",
) -> str:
    """Keep wires that were identified; return the id of the new wire map.

    Parameters
    ----------
    access : Access
        The store's.
    rig_id : str
        The rig at whose vehicle they were found.
    wires : sequence of KeptWire
        What was proved; what was not is not kept.
    who : str
        Who proved it.
    vehicle : str
        Name of the vehicle; that of the rig if left out.
    notes : str
        What else to know of such a vehicle.

    Raises
    ------
    InvalidInput
        If there is no such rig, nothing was proved, or an entry cannot be used.
    """
    if not wires:
        fix = "identify one wire at least; what is not proved is not kept"
        raise InvalidInput("wires", "none", fix)
    who, at = checked_name(who, "who"), access.at()
    with access.reading() as connection:
        rig = rows.rig_row(connection, rig_id)
    name = checked_name(vehicle or rig.vehicle or rig.name, "vehicle")
    values = {
        "id": access.new_id(),
        "vehicle": name,
        "fits": name,
        "notes": checked_text(notes, "notes", LONGEST_NOTES),
        "words": folded(f"{name} {notes}"),
        "rig_id": rig_id,
        "kept_at": at,
        "kept_by": who,
    }
    each = {"map_id": values["id"], "verified_at": at, "verified_by": who}
    proved = [
        {
            "place": place,
            "function": wire.function,
            "colour": wire.colour,
            "size": wire.size,
            "found": wire.found,
            "verified_how": checked_name(wire.how, f"how.{wire.function}"),
        }
        for place, wire in enumerate(wires, start=1)
    ]
    with access.writing() as connection:
        connection.execute(insert(WIRE_MAPS).values(values))
        connection.execute(insert(MAPPED_WIRES), [row | each for row in proved])
        said = {"what": "kept", "vehicle": name}
        add_event(connection, access, Happening(f"{TOPIC}/{values['id']}", said, who))
    return str(values["id"])
