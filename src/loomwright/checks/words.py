"""Short plain words for circuits, commands and lists, as findings use them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from loomwright.electrics.commands import COMMANDS

CIRCUITS = {
    "ground": "ground",
    "ground_battery": "charge ground",
    "ground_ignition": "ignition ground",
    "tail": "tail lamps",
    "tail_left": "left tail lamps",
    "tail_right": "right tail lamps",
    "clearance": "clearance lamps",
    "left_turn": "left turn",
    "right_turn": "right turn",
    "stop": "stop lamps",
    "left_stop_turn": "left stop and turn",
    "right_stop_turn": "right stop and turn",
    "reverse": "reverse lamps",
    "fog": "rear fog lamps",
    "brake": "electric brakes",
    "battery": "battery feed",
    "ignition": "ignition feed",
    "charge": "charge line",
    "abs_aux": "antilock supply",
    "worklight": "work lamps",
}


def circuit(function: str) -> str:
    """Return the short name of a circuit, such as ``left stop and turn``."""
    return CIRCUITS.get(function, function.replace("_", " "))


def circuits(functions: Iterable[str]) -> str:
    """Return several circuits as a list in words, each once."""
    return listed(tuple(dict.fromkeys(circuit(each) for each in functions)))


def without_side(function: str) -> str:
    """Return what left and right circuits of one kind have in common, ``stop_turn``."""
    words = [word for word in function.split("_") if word not in ("left", "right")]
    return "_".join(words)


def command_title(key: str) -> str:
    """Return a command in words, such as ``park lamps and brake pedal``."""
    return next((each.title for each in COMMANDS if each.key == key), key.replace("_", " "))


def listed(items: Sequence[str], most: int = 4) -> str:
    """Return ``a, b and c``; from more than `most` the first ones and ``2 more``."""
    shown = list(items)
    if len(shown) > most:
        shown = [*shown[: most - 1], f"{len(shown) - most + 1} more"]
    return " and ".join(part for part in (", ".join(shown[:-1]), *shown[-1:]) if part)


def capital(sentence: str) -> str:
    """Return a sentence with a capital at its start and the rest as it is."""
    return sentence[:1].upper() + sentence[1:]


def plural(count: int, one: str, more: str = "") -> str:
    """Return ``1 wire`` or ``3 wires``."""
    return f"{count} {one if count == 1 else more or one + 's'}"
