"""Which conductor can serve a function: directly, or through a converter.

One home for what pairing (`hookup`) and the circuit (`electrics`) both go by.

Sources: ISO 1724 and ISO 11446-1 (left and right tail lamps apart, returns apart), SAE J560
(clearance lamps apart), SAE J1239 and J2863 (one wire for stop and turn); that one feed then
serves both, and that a combined wire is made from a turn and a stop wire, is common practice.
"""

from __future__ import annotations

from collections.abc import Collection

STANDS_IN: dict[str, tuple[str, ...]] = {
    "tail": ("tail_left", "tail_right", "clearance"),
    "tail_left": ("tail",),
    "tail_right": ("tail",),
    "clearance": ("tail", "tail_left", "tail_right"),
    "charge": ("battery", "ignition"),
    "battery": ("charge",),
    "ignition": ("charge",),
    "ground": ("ground_battery", "ground_ignition"),
    "ground_battery": ("ground",),
    "ground_ignition": ("ground",),
}
"""Functions whose conductor may serve another one where it has none of its own, best first.

A return of the trailer may also end in another return of the vehicle: what must stay apart is
the trailer's side.
"""

COMBINED_FROM: dict[str, tuple[str, ...]] = {
    "left_stop_turn": ("left_turn", "stop"),
    "right_stop_turn": ("right_turn", "stop"),
}
"""What a converter makes the shared stop and turn wires from; the turn signal goes first."""

SPLIT_FROM: dict[str, tuple[str, ...]] = {
    "left_turn": ("left_stop_turn",),
    "right_turn": ("right_stop_turn",),
    "stop": ("left_stop_turn", "right_stop_turn"),
}
"""What a converter makes separate wires from; a turn signal from its own side."""


def feeders(function: str) -> tuple[str, ...]:
    """Return the functions whose conductor may serve this one directly, itself first."""
    return (function, *STANDS_IN.get(function, ()))


def directly(function: str, among: Collection[str]) -> str | None:
    """Return which of some functions serves this one directly, the best; None if none does."""
    return next((each for each in feeders(function) if each in among), None)


def made_from(output: str) -> tuple[str, ...]:
    """Return what only a converter can make a function from; nothing if none can."""
    return COMBINED_FROM.get(output, SPLIT_FROM.get(output, ()))
