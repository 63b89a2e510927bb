"""Where a person can have looked: places of a rig to choose from, each as one value of a form."""

from __future__ import annotations

import json
from collections.abc import Iterator

from loomwright.circuit import Fuse
from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.invalid import InvalidInput
from loomwright.observations.place import Place, PlaceKind
from loomwright.rig.model import Rig

Choice = tuple[str, str]
"""The value of a form, and its words."""


def value_of(place: Place) -> str:
    """Return a place as one value of a form."""
    return json.dumps([str(place.kind), place.name, place.pin, place.other])


def place_of(value: str) -> Place:
    """Return the place a value of a form stands for.

    Raises
    ------
    InvalidInput
        If it stands for none.
    """
    try:
        kind, name, pin, other = json.loads(value)
        return Place(PlaceKind(kind), str(name), str(pin), str(other))
    except (ValueError, TypeError) as unknown:
        raise InvalidInput("place", value, "choose one of the places") from unknown


def places_of(rig: Rig) -> tuple[tuple[str, tuple[Choice, ...]], ...]:
    """Return the places of a rig, in groups: lamps first, since they are what is seen."""
    wiring = wire_up(rig)
    groups = (
        ("Lamps of the trailer", tuple(_lamps(rig))),
        ("Single lights", tuple(_lights(wiring, "lamp"))),
        ("Lamps of the tow vehicle", tuple(_lights(wiring, "vehicle lamp"))),
        ("Brakes", tuple(_brakes(rig, wiring))),
        ("Fuses", tuple(_fuses(wiring))),
        ("Pins, to read volts at", tuple(_pins(wiring))),
    )
    return tuple((title, choices) for title, choices in groups if choices)


def lamps_of(rig: Rig) -> tuple[Choice, ...]:
    """Return what is passed on a walk round the trailer, the rear first."""
    rear = sorted(rig.trailer.lamps, key=lambda lamp: (-lamp.back_m, lamp.side))
    return tuple(_load(lamp.name) for lamp in rear)


def _load(name: str, words: str = "") -> Choice:
    return value_of(Place(PlaceKind.LOAD, name)), words or name


def _lamps(rig: Rig) -> Iterator[Choice]:
    yield _load("trailer lamps", "every lamp of the trailer")
    for lamp in rig.trailer.lamps:
        yield _load(lamp.name, f"{lamp.name} lamp")


def _lights(wiring: Wiring, kind: str) -> Iterator[Choice]:
    for load in wiring.loads:
        if load.kind == kind:
            yield _load(load.name)


def _brakes(rig: Rig, wiring: Wiring) -> Iterator[Choice]:
    magnets = [load for load in wiring.loads if load.kind == "brake"]
    if magnets:
        yield _load("brakes", "all brakes")
    for load in magnets:
        yield _load(load.name)
    if rig.vehicle.brake_controller is not None:
        yield value_of(Place(PlaceKind.CONTROLLER)), "what the brake controller says"


def _fuses(wiring: Wiring) -> Iterator[Choice]:
    for element in wiring.network.elements:
        if isinstance(element, Fuse):
            place = Place(PlaceKind.FUSE, element.name)
            yield value_of(place), wiring.parts[element.name].place


def _pins(wiring: Wiring) -> Iterator[Choice]:
    sockets = dict.fromkeys(pin.socket for pin in wiring.pins)
    for name in sockets:
        yield value_of(Place(PlaceKind.RETURN, name)), f"ground of the {name} to battery negative"
    for pin in wiring.pins:
        if pin.return_node is not None:
            place = Place(PlaceKind.PIN, pin.socket, pin.pin)
            function = pin.function.replace("_", " ")
            yield value_of(place), f"pin {pin.pin} of the {pin.socket}, {function}"
