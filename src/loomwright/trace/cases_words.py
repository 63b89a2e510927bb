"""The words of a case file: commands, places, states; read generously, never refused.

The vocabulary is that of the schema ``trailer-diagnostic-cases/1``. What is not known reads as
None, and the caller says so and goes on.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Part = Literal[
    "lamp", "truck lamp", "brakes", "hub", "controller", "cluster", "charge", "socket", "cord",
    "fuse", "wire", "trailer part", "smell", "everything",
]  # fmt: skip
Where = Literal["here", "other vehicle", "other trailer", "bench", "other socket"]

COMMANDS = {
    "tail": "park",
    "park": "park",
    "side": "side",
    "left": "left",
    "right": "right",
    "turn": "side",
    "brake": "brake_pedal",
    "pedal": "brake_pedal",
    "stop": "brake_pedal",
    "brake_pedal": "brake_pedal",
    "manual": "brake_lever",
    "lever": "brake_lever",
    "brake_lever": "brake_lever",
    "hazard": "hazard",
    "reverse": "reverse",
    "fog": "fog",
    "rest": "rest",
    "off": "rest",
    "key_off": "rest",
    "key_on": "key_on",
    "ignition": "key_on",
    "engine_run": "charge",
    "engine": "charge",
    "charge": "charge",
    "plug_in": "plug_in",
    "unplug": "unplugged",
    "unplugged": "unplugged",
    "breakaway": "breakaway",
    "any": "any",
    "all": "any",
    "rain": "rain",
    "wet": "rain",
    "bump": "bump",
    "turning": "bump",
    "rolling": "rolling",
    "driving": "rolling",
    "tap": "tap",
    "wiggle": "bump",
}
"""Commands and circumstances of the files, and what they are called here."""

STATES = {
    "off", "glow", "dim", "normal", "bright", "on", "flashing", "flashing_dim", "flashing_fast",
    "flicker", "intermittent", "wrong", "locked", "weak", "grabby", "hot", "burnt", "smoke",
    "blown", "fault", "overload", "no_trailer", "connected", "trailer_connected", "skid", "flat",
    "whole",
}  # fmt: skip
"""States, as the files write them."""

SAID = {
    "ok": "normal",
    "good": "normal",
    "works": "normal",
    "dead": "off",
    "out": "off",
    "none": "off",
    "steady": "on",
    "lit": "on",
    "low": "weak",
    "short": "overload",
    "shorted": "overload",
    "error": "fault",
    "disconnected": "no_trailer",
    "not_connected": "no_trailer",
    "fast": "flashing_fast",
    "melted": "burnt",
    "warm": "hot",
    "cool": "normal",
    "cold": "normal",
    "drag": "locked",
    "dragging": "locked",
    "pulsed": "flashing",
    "pulsing": "flashing",
}
"""Other words for the same states."""

LAMPS = {
    "st": "signal",
    "turn": "signal",
    "indicator": "signal",
    "stop": "stop",
    "brake": "stop",
    "tail": "tail",
    "side": "tail",
    "running": "tail",
    "position": "tail",
    "marker": "marker",
    "clearance": "marker",
    "plate": "plate",
    "reverse": "reverse",
    "fog": "fog",
    "lamp": "all",
    "lamps": "all",
    "lights": "all",
}
"""Lamps of a trailer; `all` stands for every one."""

CIRCUITS = {
    "st": "signal", "turn": "signal", "stop": "stop", "tail": "tail", "side": "tail",
    "marker": "tail", "running": "tail", "brake": "brake", "brakes": "brake", "charge": "charge",
    "battery": "charge", "aux": "charge", "12v": "charge", "ground": "ground", "gnd": "ground",
    "earth": "ground", "white": "ground", "reverse": "reverse", "fog": "fog", "left": "left",
    "right": "right", "all": "all", "any": "all", "voltage": "voltage", "ignition": "charge",
}  # fmt: skip
"""Circuits at a socket, a cord or a fuse."""

SIDES = {"l": "L", "left": "L", "r": "R", "right": "R", "street": "L", "curb": "R"}
ELSEWHERE: dict[str, Where] = {
    "other_vehicle": "other vehicle",
    "other_truck": "other vehicle",
    "second_vehicle": "other vehicle",
    "other_trailer": "other trailer",
    "second_trailer": "other trailer",
    "bench": "bench",
    "other_socket": "other socket",
    "rear_socket": "other socket",
}
MESSAGES: dict[str, Part] = {
    "controller": "controller",
    "cluster": "cluster",
    "smell": "smell",
    "charge": "charge",
}
TRAILER_PARTS = {"breakaway", "battery", "fridge", "converter", "frame", "fuse", "appliance"}
TRAILER_PARTS |= {"bearing", "winch", "charger", "interior"}


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of a case: what it is, on what, of which name and side.

    `where` is "here" for the rig itself. `side` is ``L``, ``R`` or empty for both or neither.
    """

    part: Part
    name: str = ""
    side: str = ""
    where: Where = "here"


def read_command(text: str) -> str | None:
    """Return a command, several joined by a plus, or None if a part of it is not known."""
    parts = [COMMANDS.get(each.strip().lower()) for each in text.split("+")]
    if any(part is None for part in parts):
        return None
    order = ("park", "brake_pedal", "left", "right")
    named = [part for part in parts if part is not None]
    named.sort(key=lambda part: order.index(part) if part in order else len(order))
    return "+".join(dict.fromkeys(named))


def read_state(text: str) -> str | None:
    """Return a state, or None if it is not known."""
    word = text.strip().lower().replace(" ", "_").replace("-", "_")
    return word if word in STATES else SAID.get(word)


def read_spot(text: str) -> Spot | None:
    """Return the place that a dotted name means, or None if it is not known."""
    steps = [step for step in text.strip().lower().replace("-", "_").split(".") if step]
    if not steps:
        return None
    where: Where = "here"
    if steps[0] in ELSEWHERE:
        where, steps = ELSEWHERE[steps[0]], steps[1:]
        if not steps or steps == ["all"]:
            return Spot("everything", where=where)
    found = _read(steps)
    return None if found is None else Spot(found.part, found.name, found.side, where)


def _read(steps: list[str]) -> Spot | None:
    first, rest = PLAIN.get(steps[0], steps[0]), steps[1:]
    if first in READERS:
        return READERS[first](rest)
    if first in MESSAGES:
        return Spot(MESSAGES[first])
    if first in TRAILER_PARTS:
        return Spot("trailer part", first)
    return _lamp(steps) if first in LAMPS else None


def _trailer(rest: list[str]) -> Spot | None:
    if not rest:
        return Spot("lamp", "all")
    first = rest[0]
    if first == "brakes":
        return _brakes("", rest[1:])
    if first == "wire":
        return Spot("wire", "trailer")
    if first == "charge":
        return Spot("charge")
    if first in TRAILER_PARTS:
        return Spot("trailer part", first)
    return _lamp(rest) if first in LAMPS else None


def _lamp(steps: list[str]) -> Spot:
    return Spot("lamp", LAMPS[steps[0]], _side(steps[1:]))


def _truck(rest: list[str]) -> Spot | None:
    if not rest:
        return Spot("truck lamp", "all")
    first = rest[0]
    if first == "fuse":
        name = CIRCUITS.get(rest[1], "all") if len(rest) > 1 else "all"
        return Spot("fuse", name, _side(rest[2:]))
    if first == "wire":
        return Spot("wire", "truck")
    if first in ("converter", "relay", "module", "harness"):
        return Spot("wire", first)
    if first in ("controller", "cluster", "charge", "socket"):
        return _read(rest)
    return Spot("truck lamp", LAMPS.get(first, "other"), _side(rest[1:]))


def _brakes(what: str, rest: list[str]) -> Spot:
    side = _side(rest)
    name = what or next((step for step in rest if step not in SIDES), "all")
    if re.fullmatch(r"axle_?\d", name):
        name = "axle" + name[-1]
    return Spot("brakes", "one" if side and name == "all" else name, side)


def _circuit(part: Part, rest: list[str]) -> Spot:
    if not rest:
        return Spot(part, "all")
    side = _side(rest)
    name = CIRCUITS.get(rest[0], "all")
    if name in ("left", "right"):
        name, side = "signal", name[0].upper()
    return Spot(part, name, side)


def _side(steps: list[str]) -> str:
    return next((SIDES[step] for step in steps if step in SIDES), "")


PLAIN = {"vehicle": "truck", "car": "truck", "tires": "tyres", "plug": "cord", "adapter": "cord"}
PLAIN |= dict.fromkeys(("brake", "wheel", "wheels", "magnet", "magnets"), "brakes")
PLAIN |= dict.fromkeys(("dash", "message", "display"), "cluster")
PLAIN |= dict.fromkeys(("hubs", "drum", "drums"), "hub")

READERS: dict[str, Callable[[list[str]], Spot | None]] = {
    "trailer": _trailer,
    "truck": _truck,
    "brakes": lambda rest: _brakes("", rest),
    "tyres": lambda rest: _brakes("tyres", rest),
    "hub": lambda rest: Spot("hub", side=_side(rest)),
    "socket": lambda rest: _circuit("socket", rest),
    "cord": lambda rest: _circuit("cord", rest),
}
"""For the first step of a place, what reads the rest."""
