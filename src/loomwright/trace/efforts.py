"""What it costs to look: minutes by place, tools, and who must help.

Minutes are those of a technician with the tools laid out, from the last place to the next
(common practice, never timed): they order questions, they promise nothing.
"""

from __future__ import annotations

from typing import Final

LOOK_MIN: Final = 0.8
"""Hold a command and walk round the trailer, with a helper at the pedal. [min]"""

ALONE_MIN: Final = 1.6
"""The same alone: prop the pedal, walk, walk back. [min]"""

AT_PLACE_MIN: Final = {
    "vehicle.fuse": 2.0,
    "vehicle.relay": 4.0,
    "vehicle.module": 8.0,
    "vehicle.converter": 6.0,
    "vehicle.stop_switch": 6.0,
    "vehicle.controller": 5.0,
    "vehicle.harness": 12.0,
    "vehicle.splice": 8.0,
    "vehicle.socket.terminal": 5.0,
    "vehicle.ground": 5.0,
    "coupling": 3.0,
    "adapter": 3.0,
    "trailer.plug.terminal": 4.0,
    "trailer.cord": 4.0,
    "trailer.junction_box": 4.0,
    "trailer.ground.main": 4.0,
    "trailer.ground.frame": 4.0,
    "trailer.ground.lamp": 3.5,
    "trailer.harness": 9.0,
    "trailer.lamp.bulb": 2.5,
    "trailer.lamp.led": 3.0,
    "trailer.lamp.socket": 3.0,
    "trailer.lamp.wiring": 5.0,
    "trailer.brake.magnet": 25.0,
    "trailer.brake.wire": 10.0,
    "trailer.brake.joint": 8.0,
    "trailer.brake.ground": 8.0,
    "trailer.breakaway": 4.0,
    "trailer.charge": 6.0,
}
"""Getting a meter to both sides of a part. [min]"""

CRAWL: Final = frozenset(
    {
        "vehicle.harness",
        "trailer.harness",
        "trailer.brake.wire",
        "trailer.brake.joint",
        "trailer.brake.ground",
        "trailer.brake.magnet",
    }
)
"""Places a person must lie down for."""

CRAWL_MIN: Final = 3.0
"""More for lying down. [min]"""

PIN_MIN: Final = 2.5
"""Probe a pin of the socket from behind, trailer plugged in. [min]"""

DROP_MIN: Final = 2.5
"""Long lead from the socket's ground pin to battery negative. [min]"""

FUSE_MIN: Final = 2.0
MESSAGE_MIN: Final = 0.5
LAMP_MIN: Final = 3.0
"""Lens off, meter across the lamp. [min]"""

ELSEWHERE_MIN: Final = {
    "other vehicle": 10.0,
    "bench supply": 8.0,
    "load box": 4.0,
    "other trailer": 10.0,
}

AT_HAND: Final = ("eye", "meter", "helper", "other vehicle")
"""Tools that are taken to be there if nobody says otherwise."""


def minutes_at(place: str) -> float:
    """Return the minutes to get a meter to both sides of a part in a kind of place. [min]"""
    return AT_PLACE_MIN.get(place, 6.0) + (CRAWL_MIN if place in CRAWL else 0.0)


def look_minutes(tools: tuple[str, ...]) -> float:
    """Return the minutes to hold a command and look at everything. [min]"""
    return LOOK_MIN if "helper" in tools else ALONE_MIN
