"""Where on a rig each element belongs, in the words of fault finding."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final

from loomwright.electrics.answers import Part
from loomwright.electrics.sockets import is_return
from loomwright.rig.model import Join, Led, Rig, SocketFeed
from loomwright.trace.model import Side

CIRCUITS: Final = {
    "tail": "tail",
    "tail_left": "tail",
    "tail_right": "tail",
    "clearance": "tail",
    "left_turn": "left",
    "left_stop_turn": "left",
    "right_turn": "right",
    "right_stop_turn": "right",
    "stop": "stop",
    "brake": "brake",
    "battery": "charge",
    "charge": "charge",
    "ignition": "charge",
    "reverse": "reverse",
    "fog": "fog",
}


SIGNALS: Final = frozenset({"left", "right", "stop"})
"""Circuits whose lamps are built alike."""


@dataclass(frozen=True, slots=True)
class Home:
    """Side, kind of place, words for the part, and circuit of an element."""

    side: Side
    place: str
    part: str
    circuit: str


def circuit_of(function: str) -> str:
    """Circuit of a function, in the words of fault finding."""
    if is_return(function):
        return "ground"
    return CIRCUITS.get(function, function)


def circuit_fits(circuit: str, named: Collection[str]) -> bool:
    """Whether a circuit is one of those named, one signal lamp standing for another.

    Parameters
    ----------
    circuit : str
        Of a fault of a rig; ``all`` fits any.
    named : collection of str
        Of a kind of fault; ``any`` fits all.
    """
    if circuit == "all" or "any" in named or circuit in named:
        return True
    return circuit in SIGNALS and bool(SIGNALS & set(named))


def home_of(rig: Rig, part: Part) -> Home:
    """Return where an element belongs.

    Parameters
    ----------
    rig : Rig
        The rig.
    part : Part
        What the element is on it.
    """
    place = _return_place(part) if part.path == "return" else _supply_place(rig, part)
    circuit = "ground" if part.path == "return" else circuit_of(part.function)
    return Home(_side(place), place, _part(place, part), circuit)


def _part(place: str, part: Part) -> str:  # noqa: PLR0911
    """One name for what a person takes as one thing: a lamp's ground, a socket's ground."""
    names = part.ref.split(".")
    match place:
        case "trailer.ground.lamp":
            return f"ground of the {names[2]} lamp"
        case "trailer.brake.ground":
            return f"ground of {names[2]}"
        case "vehicle.ground" if names[0] == "socket":
            return f"ground of the {names[1]}"
        case "vehicle.ground":
            return "vehicle's ground wire"
        case "trailer.harness" | "trailer.lamp.wiring" | "trailer.lamp.socket" if names[:2] == [
            "trailer",
            "lamp",
        ]:
            return f"{names[2]} lamp, {part.function.replace('_', ' ')}"
        case "trailer.ground.main" if part.station == "junction":
            return "trailer ground at the junction"
        case _:
            return part.place


def _side(place: str) -> Side:
    if place.startswith("vehicle"):
        return "vehicle"
    return "trailer" if place.startswith("trailer") else "coupling"


def _return_place(part: Part) -> str:  # noqa: PLR0911
    if part.ref.startswith("socket.") and part.station == "socket":
        return "vehicle.socket.terminal"
    match part.station:
        case "plug":
            return _at_plug(part)
        case "cord":
            return "trailer.cord"
        case "junction":
            return "trailer.ground.main"
        case "run":
            return "trailer.ground.frame" if part.kind == "frame" else "trailer.ground.main"
        case "branch" | "load":
            is_brake = part.ref.startswith("trailer.brake.")
            return "trailer.brake.ground" if is_brake else "trailer.ground.lamp"
        case _:
            return "vehicle.converter" if part.ref.startswith("converter") else "vehicle.ground"


def _at_plug(part: Part) -> str:
    if part.element.startswith("adapter"):
        return "adapter"
    return "coupling" if part.element.startswith("contact") else "trailer.plug.terminal"


def _supply_place(rig: Rig, part: Part) -> str:  # noqa: PLR0911
    match part.station:
        case "battery" | "fuse":
            return "vehicle.fuse" if part.kind == "fuse" else "vehicle.harness"
        case "feed":
            return _driver_place(rig, part) if part.kind == "switch" else "vehicle.harness"
        case "converter":
            is_joint = part.kind in ("joint", "contact")
            return "vehicle.splice" if is_joint else "vehicle.converter"
        case "joint":
            return _joint_place(rig, part)
        case "lead":
            return "vehicle.harness"
        case "socket":
            return "vehicle.socket.terminal"
        case "plug":
            return _at_plug(part)
        case "cord":
            return "trailer.cord"
        case "junction":
            return "trailer.junction_box"
        case "run":
            return _on_trailer(part.function)
        case _:
            return _at_load(rig, part)


def _driver_place(rig: Rig, part: Part) -> str:
    if part.function == "brake":
        return "vehicle.controller"
    match rig.vehicle.socket_feed:
        case SocketFeed.MODULE:
            return "vehicle.module"
        case SocketFeed.RELAY:
            return "vehicle.relay"
        case _:
            return "vehicle.stop_switch" if part.function == "stop" else "vehicle.relay"


def _joint_place(rig: Rig, part: Part) -> str:
    """A factory socket has plugs in the harness where others have splices."""
    name = part.ref.removeprefix("socket.").split(".lead.")[0].removesuffix(".ground")
    factory = any(s.name == name and s.join is Join.FACTORY for s in rig.sockets)
    return "vehicle.harness" if factory else "vehicle.splice"


def _on_trailer(function: str) -> str:
    circuit = circuit_of(function)
    if circuit == "brake":
        return "trailer.brake.wire"
    return "trailer.charge" if circuit == "charge" else "trailer.harness"


def _at_load(rig: Rig, part: Part) -> str:
    if part.ref.startswith("vehicle.") or part.ref.startswith("converter"):
        return "vehicle.harness"
    if part.ref.startswith("trailer.brake."):
        if part.kind == "load":
            return "trailer.brake.magnet"
        return "trailer.brake.joint" if part.kind == "joint" else "trailer.brake.wire"
    if part.ref.startswith("trailer.battery"):
        return "trailer.charge"
    if part.ref.startswith("trailer.lamp."):
        return _at_lamp(rig, part)
    return "trailer.harness"


def _at_lamp(rig: Rig, part: Part) -> str:
    if part.kind == "load":
        return "trailer.lamp.led" if _is_led(rig, part) else "trailer.lamp.bulb"
    if part.kind == "contact":
        return "trailer.lamp.socket"
    return "trailer.harness" if part.kind == "joint" else "trailer.lamp.wiring"


def _is_led(rig: Rig, part: Part) -> bool:
    for lamp in rig.trailer.lamps:
        if part.ref.startswith(f"trailer.lamp.{lamp.name}."):
            return any(
                isinstance(light.source, Led) and light.function == part.function
                for light in lamp.lights
            )
    return False
