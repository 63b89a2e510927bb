"""Where something was seen or measured, in names of the rig."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from loomwright.invalid import InvalidInput


class PlaceKind(StrEnum):
    """What stands at a place."""

    LOAD = "load"  # name: a load of the rig, as its readings name it
    PIN = "pin"  # name: the socket; pin: as moulded; read to the return in the same socket
    RETURN = "return"  # name: the socket; its ground pin read to battery negative
    POINTS = "points"  # name, other: two nodes of the circuit
    FUSE = "fuse"  # name: the fuse's element
    CONTROLLER = "controller"  # name: empty, or "dash" for a message of the vehicle
    GROUP = "group"  # name: "trailer lamps", "left rear", "markers", "brakes", "vehicle lamps"
    ELSEWHERE = "elsewhere"  # name: "other vehicle", "other trailer", "bench supply", "load box"
    HISTORY = "history"  # name: "rain", "bumps", "added lately", "never worked", "no trailer"


@dataclass(frozen=True, slots=True)
class Place:
    """One place on the rig; two for volts or ohms between points."""

    kind: PlaceKind
    name: str = ""
    pin: str = ""
    other: str = ""

    def __post_init__(self) -> None:
        if not self.name and self.kind is not PlaceKind.CONTROLLER:
            raise InvalidInput("place.name", self.name, f"name the {self.kind}")
        if self.kind is PlaceKind.PIN and not self.pin:
            raise InvalidInput("place.pin", self.pin, "give the number moulded at the pin")
        if self.kind is PlaceKind.POINTS and not self.other:
            raise InvalidInput("place.other", self.other, "name the second point")

    def __str__(self) -> str:
        """Return it in words."""
        match self.kind:
            case PlaceKind.PIN:
                return f"pin {self.pin} of {self.name}"
            case PlaceKind.RETURN:
                return f"ground of {self.name} to battery negative"
            case PlaceKind.POINTS:
                return f"{self.name} to {self.other}"
            case PlaceKind.CONTROLLER:
                return "dash" if self.name == "dash" else "brake controller"
            case _:
                return self.name
