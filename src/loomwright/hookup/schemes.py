"""Which functions can feed which, in the two signal systems and across socket families.

Sources: SAE J1239 and J2863 (one lamp for stop and turn), ISO 1724 and ISO 11446-1 (a wire
each); the rest is common practice.
"""

from __future__ import annotations

from loomwright.rig.model import ConverterKind, SignalSystem

SAME_FEED: dict[str, tuple[str, ...]] = {
    "tail": ("tail", "tail_left", "tail_right", "clearance"),
    "tail_left": ("tail_left", "tail"),
    "tail_right": ("tail_right", "tail"),
    "clearance": ("clearance", "tail"),
    "charge": ("charge", "battery", "ignition"),
    "battery": ("battery", "charge"),
    "ignition": ("ignition", "charge"),
}
"""Vehicle functions that may feed a socket function directly, best first."""

ACROSS_SYSTEMS: dict[str, tuple[tuple[str, ...], ConverterKind]] = {
    "left_stop_turn": (("left_turn", "stop"), ConverterKind.COMBINE),
    "right_stop_turn": (("right_turn", "stop"), ConverterKind.COMBINE),
    "left_turn": (("left_stop_turn",), ConverterKind.SPLIT),
    "right_turn": (("right_stop_turn",), ConverterKind.SPLIT),
    "stop": (("left_stop_turn", "right_stop_turn"), ConverterKind.SPLIT),
}
"""Functions that only a converter can make, from what, and which kind."""

INPUTS: dict[ConverterKind, tuple[str, ...]] = {
    ConverterKind.COMBINE: ("left_turn", "right_turn", "stop", "tail"),
    ConverterKind.SPLIT: ("left_stop_turn", "right_stop_turn", "tail"),
}
"""What a converter listens to; the other kinds listen to what they give."""


def feeders(function: str) -> tuple[str, ...]:
    """Return the vehicle functions that may feed this one directly, best first."""
    return SAME_FEED.get(function, (function,))


def system_of(functions: frozenset[str]) -> SignalSystem | None:
    """Return the signal system a set of functions belongs to, if they tell."""
    if functions & {"left_stop_turn", "right_stop_turn"}:
        return SignalSystem.COMBINED
    if functions & {"left_turn", "right_turn", "stop"}:
        return SignalSystem.SEPARATE
    return None


def converter_inputs(kind: ConverterKind, channels: frozenset[str]) -> tuple[str, ...]:
    """Return what a converter of this kind listens to."""
    return INPUTS.get(kind, tuple(sorted(channels)))
