"""Places and functions in the words of the trade."""

from __future__ import annotations

from loomwright.electrics.commands import Command
from loomwright.electrics.places import LoadPlace, PinPlace
from loomwright.electrics.wiring import Wiring

SAID = {
    "tail_left": "left tail",
    "tail_right": "right tail",
    "left_stop_turn": "left stop and turn",
    "right_stop_turn": "right stop and turn",
    "left_turn": "left turn signal",
    "right_turn": "right turn signal",
    "battery": "battery charge",
    "ignition": "ignition feed",
    "fog": "rear fog",
    "brake": "electric brakes",
}


def function_words(function: str) -> str:
    """Return a function as people say it: "left stop and turn"."""
    return SAID.get(function, function.replace("_", " "))


def role_words(function: str, command: Command) -> str:
    """Return what a lamp of this function does under a command: "stop", "turn signal"."""
    if function in command.flashing:
        return "turn signal"
    if function.endswith("_stop_turn") and function in command.functions:
        return "stop"
    return function_words(function)


def load_title(wiring: Wiring, load: LoadPlace, command: Command) -> str:
    """Return a load in words: "left rear lamp, stop"."""
    if load.kind != "lamp":
        return load.name
    ref = wiring.parts[load.element].ref
    name = ref.removeprefix("trailer.lamp.").removesuffix(f".{load.function}")
    return f"{name} lamp, {role_words(load.function, command)}"


def pin_title(pin: PinPlace) -> str:
    """Return a pin in words: "pin 4 of the deck 7-way, battery charge"."""
    return f"pin {pin.pin} of the {pin.socket}, {function_words(pin.function)}"
