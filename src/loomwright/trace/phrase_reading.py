"""Reads a reading that a person types: "pin 4 of the rear socket 9.6 V"."""

from __future__ import annotations

import re
from typing import Final

from loomwright.electrics.wiring import Wiring
from loomwright.invalid import InvalidInput
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.trace.phrase_places import bare, pin_named, socket_named
from loomwright.trace.whereabouts import meant_by

READING: Final = re.compile(
    r"^(?P<place>.*?)\s*(?P<value>-?\d+(?:\.\d+)?|open|over range)\s*"
    r"(?P<unit>mV|V|volts?|mA|A|amps?|kohm|Mohm|ohms?|kΩ|MΩ|Ω)?$",
    re.IGNORECASE,
)

UNITS: Final = {
    "v": (Quantity.VOLTS, 1.0),
    "volt": (Quantity.VOLTS, 1.0),
    "volts": (Quantity.VOLTS, 1.0),
    "mv": (Quantity.VOLTS, 1e-3),
    "a": (Quantity.AMPS, 1.0),
    "amp": (Quantity.AMPS, 1.0),
    "amps": (Quantity.AMPS, 1.0),
    "ma": (Quantity.AMPS, 1e-3),
    "ohm": (Quantity.OHMS, 1.0),
    "ohms": (Quantity.OHMS, 1.0),
    "ω": (Quantity.OHMS, 1.0),
    "kohm": (Quantity.OHMS, 1e3),
    "kω": (Quantity.OHMS, 1e3),
    "mohm": (Quantity.OHMS, 1e6),
    "mω": (Quantity.OHMS, 1e6),
}

OPEN_OHM: Final = 1e6

READ: Final = "give it as in: park: pin 4 of the rear socket 9.6 V"


def reading_said(said: str, command: str, wiring: Wiring) -> Observation:
    """Return the reading that a person tells.

    Parameters
    ----------
    said : str
        Place, number and unit.
    command : str
        Key of the command that was held; empty for none.
    wiring : Wiring
        The rig.

    Raises
    ------
    InvalidInput
        If place, number or unit is not understood.
    """
    plugged = "unplugged" not in said and "plug out" not in said
    short = said.replace("unplugged", "").replace("plug out", "").strip()
    match = READING.match(short)
    if match is None:
        raise InvalidInput("read", said, READ)
    value_said, unit_said = match["value"].casefold(), (match["unit"] or "").casefold()
    is_open = value_said in ("open", "over range")
    quantity, scale = UNITS.get(unit_said, (Quantity.VOLTS, 1.0))
    if is_open:
        quantity, value = Quantity.OHMS, OPEN_OHM
    elif not unit_said:
        raise InvalidInput("read", said, "give the unit as well: V, A or ohm")
    else:
        value = float(value_said) * scale
    place = _place(bare(match["place"].casefold()), said, wiring)
    key = "" if quantity is Quantity.OHMS else command
    return Observation(
        key, place, quantity, value=value, tester="meter", plugged=plugged and bool(key)
    )


def _place(text: str, said: str, wiring: Wiring) -> Place:
    pin = pin_named(text, wiring)
    if pin is not None:
        return pin
    if text.startswith("ground"):
        socket = re.sub(r"^ground(\s+pin)?(\s+of)?(\s+the)?", "", text)
        return Place(PlaceKind.RETURN, socket_named(socket.strip(), wiring))
    if " to " in text:
        one, other = (part.strip().replace(" ", "_") for part in text.split(" to ", 1))
        nodes = {*wiring.network.nodes, "battery_negative", "battery", "chassis"}
        if {one, other} <= nodes:
            names = {"battery_negative": "battery negative"}
            return Place(PlaceKind.POINTS, names.get(one, one), other=names.get(other, other))
        raise InvalidInput("read", said, "name two points as `loomwright netlist` names its nodes")
    if "controller" in text:
        return Place(PlaceKind.CONTROLLER)
    if text and meant_by(wiring, text):
        return Place(PlaceKind.GROUP, text)
    raise InvalidInput("read", said, READ)
