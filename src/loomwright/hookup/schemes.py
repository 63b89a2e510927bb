"""Which functions can feed which, in the two signal systems and across socket families.

Sources: SAE J1239 and J2863 (one lamp for stop and turn), ISO 1724 and ISO 11446-1 (a wire
each, and returns apart); the rest is common practice.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from loomwright.rig.model import ConverterKind

SAME_FEED: dict[str, tuple[str, ...]] = {
    "tail": ("tail", "tail_left", "tail_right", "clearance"),
    "tail_left": ("tail_left", "tail"),
    "tail_right": ("tail_right", "tail"),
    "clearance": ("clearance", "tail", "tail_left", "tail_right"),
    "charge": ("charge", "battery", "ignition"),
    "battery": ("battery", "charge"),
    "ignition": ("ignition", "charge"),
    "ground": ("ground", "ground_battery", "ground_ignition"),
    "ground_battery": ("ground_battery", "ground"),
    "ground_ignition": ("ground_ignition", "ground"),
}
"""Vehicle functions that may feed a socket function directly, best first.

A return of the trailer may also end in another return of the vehicle: what must stay apart is
the trailer's side.
"""

ACROSS_SYSTEMS: dict[str, tuple[tuple[str, ...], ConverterKind]] = {
    "left_stop_turn": (("left_turn", "stop"), ConverterKind.COMBINE),
    "right_stop_turn": (("right_turn", "stop"), ConverterKind.COMBINE),
    "left_turn": (("left_stop_turn",), ConverterKind.SPLIT),
    "right_turn": (("right_stop_turn",), ConverterKind.SPLIT),
    "stop": (("left_stop_turn", "right_stop_turn"), ConverterKind.SPLIT),
}
"""Functions that only a converter can make, from what, and which kind."""

SPARE_FUNCTIONS = frozenset({"spare", "coding"})
"""Pins that carry nothing a joint could serve."""


def feeders(function: str) -> tuple[str, ...]:
    """Return the vehicle functions that may feed this one directly, best first."""
    return SAME_FEED.get(function, (function,))


def may_join(vehicle_function: str, trailer_function: str) -> bool:
    """Whether a vehicle conductor may feed, or take home, this trailer conductor directly."""
    return vehicle_function in feeders(trailer_function)


def converter_between(vehicle_functions: Iterable[str], wanted: str) -> ConverterKind | None:
    """Return the kind of converter that makes a function from these, if one can."""
    made_from, kind = ACROSS_SYSTEMS.get(wanted, ((), None))
    return kind if set(made_from) & set(vehicle_functions) else None


def converter_inputs(outputs: Iterable[str], fed: Collection[str]) -> tuple[str, ...]:
    """Return what a converter listens to, each wire once.

    Parameters
    ----------
    outputs : iterable of str
        Functions of its channels.
    fed : collection of str
        Functions the vehicle has a wire for.

    Notes
    -----
    An output follows a wire of its own function, or one that may feed it; else the wires its
    signal is made from, whether the vehicle has them or not.
    """
    inputs = [name for output in outputs for name in _inputs_of(output, fed)]
    return tuple(dict.fromkeys(inputs))


def _inputs_of(output: str, fed: Collection[str]) -> tuple[str, ...]:
    direct = next((name for name in feeders(output) if name in fed), None)
    if direct is not None:
        return (direct,)
    made_from, _ = ACROSS_SYSTEMS.get(output, ((output,), None))
    return made_from
