"""Names of functions for people, and of what is no function of the trailer."""

from __future__ import annotations

from loomwright.identify.behaviour import LEAVE_ALONE, NOT_FEEDS, SPARE
from loomwright.reference.functions import function

OWN = {
    SPARE: "nothing for the trailer",
    LEAVE_ALONE: "data or module wire: leave it alone",
    "ground": "ground",
    "tail": "tail lamps",
    "tail_left": "left tail lamps",
    "tail_right": "right tail lamps",
    "clearance": "clearance and marker lamps",
    "left_turn": "left turn signal",
    "right_turn": "right turn signal",
    "stop": "stop lamps",
    "left_stop_turn": "left stop and turn",
    "right_stop_turn": "right stop and turn",
    "reverse": "reverse lamps",
    "fog": "rear fog lamps",
    "brake": "electric brakes",
    "battery": "battery feed",
    "ignition": "ignition feed",
    "charge": "charge line",
    "abs_aux": "antilock power",
}


def title(key: str) -> str:
    """Return the name of a function as it is said at the truck."""
    return OWN.get(key) or function(key).title


def titles(keys: tuple[str, ...]) -> str:
    """Return the name of a group of functions that read alike."""
    if set(keys) == set(NOT_FEEDS):
        return OWN[SPARE]
    return " or ".join(title(key) for key in keys)
