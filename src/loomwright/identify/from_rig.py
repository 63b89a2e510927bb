"""A bundle for a rig: what its sockets and feeds let one expect among unknown wires."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loomwright.identify.behaviour import Signalling, function_rows

if TYPE_CHECKING:
    from loomwright.rig.model import Rig

USUAL = (
    *("ground", "tail", "left_turn", "right_turn", "stop", "left_stop_turn", "right_stop_turn"),
    *("reverse", "brake", "battery", "ignition", "charge"),
)
"""What may be among the wires of a vehicle of which nothing is known."""

EITHER_WAY = {
    Signalling.COMBINED: ("left_stop_turn", "right_stop_turn"),
    Signalling.SEPARATE: ("left_turn", "right_turn", "stop"),
}


def functions_for(rig: Rig) -> tuple[str, ...]:
    """Return the functions to look for on the vehicle of a rig.

    Its feeds and the wires of its sockets say what may be there. A wire for stop or turn may be
    of either way to signal: that is among what is not known.
    """
    found = ["ground"]
    found += [feed.function for feed in rig.vehicle.feeds]
    found += [wire.function for socket in rig.sockets for wire in socket.lead]
    if set(found) & {each for names in EITHER_WAY.values() for each in names}:
        found += [each for names in EITHER_WAY.values() for each in names]
    known = function_rows()
    return tuple(dict.fromkeys(each for each in found if each in known))
