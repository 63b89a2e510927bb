"""Where on a rig each element belongs, in the words of fault finding."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
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


OF_A_LAMP: Final = ("trailer.harness", "trailer.lamp.wiring", "trailer.lamp.socket")
"""Places whose parts are named for their lamp."""

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
    return Home(side_of_place(place), place, _part(place, part), circuit)


def _part(place: str, part: Part) -> str:
    """One name for what a person takes as one thing: a lamp's ground, a socket's ground."""
    names = part.ref.split(".")
    at_lamp = names[:2] == ["trailer", "lamp"]
    if place == "trailer.ground.lamp":
        return f"ground of the {names[2]} lamp"
    if place == "trailer.brake.ground":
        return f"ground of {names[2]}"
    if place == "vehicle.ground":
        return f"ground of the {names[1]}" if names[0] == "socket" else "vehicle's ground wire"
    if place in OF_A_LAMP and at_lamp:
        return f"{names[2]} lamp, {part.function.replace('_', ' ')}"
    at_junction = place == "trailer.ground.main" and part.station == "junction"
    return "trailer ground at the junction" if at_junction else part.place


def side_of_place(place: str) -> Side:
    """Return the half of the rig that a kind of place is in."""
    if place.startswith("vehicle"):
        return "vehicle"
    return "trailer" if place.startswith("trailer") else "coupling"


def _return_place(part: Part) -> str:
    if part.ref.startswith("socket.") and part.station == "socket":
        return "vehicle.socket.terminal"
    tell = RETURNS.get(part.station)
    if tell is None:
        return "vehicle.converter" if part.ref.startswith("converter") else "vehicle.ground"
    return tell if isinstance(tell, str) else tell(part)


def _ground_run(part: Part) -> str:
    return "trailer.ground.frame" if part.kind == "frame" else "trailer.ground.main"


def _ground_branch(part: Part) -> str:
    is_brake = part.ref.startswith("trailer.brake.")
    return "trailer.brake.ground" if is_brake else "trailer.ground.lamp"


def _at_plug(part: Part) -> str:
    if part.element.startswith("adapter"):
        return "adapter"
    return "coupling" if part.element.startswith("contact") else "trailer.plug.terminal"


def _supply_place(rig: Rig, part: Part) -> str:
    tell = SUPPLIES.get(part.station, _at_load)
    return tell if isinstance(tell, str) else tell(rig, part)


def _fused(_: Rig, part: Part) -> str:
    return "vehicle.fuse" if part.kind == "fuse" else "vehicle.harness"


def _fed(rig: Rig, part: Part) -> str:
    return _driver_place(rig, part) if part.kind == "switch" else "vehicle.harness"


def _converted(_: Rig, part: Part) -> str:
    return "vehicle.splice" if part.kind in ("joint", "contact") else "vehicle.converter"


def _plugged(_: Rig, part: Part) -> str:
    return _at_plug(part)


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


def _on_trailer(_: Rig, part: Part) -> str:
    circuit = circuit_of(part.function)
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


RETURNS: Final[Mapping[str, str | Callable[[Part], str]]] = {
    "plug": _at_plug,
    "cord": "trailer.cord",
    "junction": "trailer.ground.main",
    "run": _ground_run,
    "branch": _ground_branch,
    "load": _ground_branch,
}
"""Kind of place of a return, by its station on the way home; others are the vehicle's."""

SUPPLIES: Final[Mapping[str, str | Callable[[Rig, Part], str]]] = {
    "battery": _fused,
    "fuse": _fused,
    "feed": _fed,
    "converter": _converted,
    "joint": _joint_place,
    "lead": "vehicle.harness",
    "socket": "vehicle.socket.terminal",
    "plug": _plugged,
    "cord": "trailer.cord",
    "junction": "trailer.junction_box",
    "run": _on_trailer,
}
"""Kind of place of a supply, by its station on the way out; others are at a load."""
