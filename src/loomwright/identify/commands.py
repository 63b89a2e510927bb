"""What to hold while wires are probed, and the two tests of a ground."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from loomwright.invalid import InvalidInput


class Key(StrEnum):
    """Where the ignition key stands."""

    OFF = "off"
    ON = "on"
    ENGINE = "engine running"


@dataclass(frozen=True, slots=True)
class Command:
    """One thing to hold.

    `hold` tells the person in the cab what to do; `caution` stands where the danger is.
    """

    key: str
    title: str
    hold: str
    ignition: Key = Key.OFF
    caution: str = ""


CHOCKED = "Engine off, level ground, parking brake on, wheels chocked. Nobody behind the vehicle."

COMMANDS = (
    Command("rest", "everything off", "Everything off, key out."),
    Command("key_on", "key on, engine off", "Key on, engine off, lamps off.", Key.ON),
    Command(
        "charge",
        "engine running, lamps off",
        "Start the engine, lamps off.",
        Key.ENGINE,
        "Outdoors or with exhaust extraction; parking brake on, wheels chocked; keep leads and "
        "sleeves clear of fans and belts.",
    ),
    Command("park", "park lamps", "Key off, park lamps on."),
    Command("left", "left signal", "Key on, engine off, left signal.", Key.ON),
    Command("right", "right signal", "Key on, engine off, right signal.", Key.ON),
    Command("hazard", "hazard signals", "Key off, hazard signals on."),
    Command("brake_pedal", "brake pedal", "Key off, hold the brake pedal."),
    Command("reverse", "reverse gear", "Key on, engine off, reverse gear.", Key.ON, CHOCKED),
    Command(
        "fog", "rear fog lamps", "Key on, engine off, head lamps and rear fog lamps on.", Key.ON
    ),
    Command(
        "brake_lever",
        "brake lever of the controller",
        "Key on, engine off, hold the lever of the brake controller all the way.",
        Key.ON,
    ),
)
"""Commands under which volts are looked for, simple ones first."""

OHMS = Command("ohms", "ohms to battery negative", "Everything off, key out.")
DROP = Command(
    "drop",
    "drop as a ground",
    "Everything off, key out.",
    caution="Only on a wire that read nothing at rest and low ohms. Take the 21 W lamp from "
    "battery positive through a fuse of 5 A at the battery: a short then lights the lamp or "
    "opens the fuse, no more.",
)
GROUND_TESTS = (OHMS, DROP)


def command(key: str, field: str = "command") -> Command:
    """Return a command or a ground test by its key.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    for each in (*COMMANDS, *GROUND_TESTS):
        if each.key == key:
            return each
    known = ", ".join(each.key for each in (*COMMANDS, *GROUND_TESTS))
    raise InvalidInput(field, key, f"use one of {known}")
