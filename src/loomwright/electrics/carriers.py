"""Which conductor carries a function where there is none of exactly that name.

Sources: ISO 1724 and ISO 11446-1 (left and right tail lamps apart), SAE J560 (clearance lamps
apart), SAE J1239 (one wire for stop and turn); that one feed then serves both is common practice.
"""

from __future__ import annotations

from collections.abc import Collection

from loomwright.rig.model import Side

STANDS_IN = {
    "tail": ("tail_left", "tail_right", "clearance"),
    "tail_left": ("tail",),
    "tail_right": ("tail",),
    "clearance": ("tail", "tail_left", "tail_right"),
    "charge": ("battery", "ignition"),
    "battery": ("charge",),
    "ignition": ("charge",),
}
"""Functions that may carry another one, best first."""

COMBINED_FROM = {
    "left_stop_turn": ("left_turn", "stop"),
    "right_stop_turn": ("right_turn", "stop"),
}
"""What a converter makes the shared stop and turn wires from."""

SPLIT_FROM = {
    "left_turn": ("left_stop_turn", "right_stop_turn"),
    "right_turn": ("right_stop_turn", "left_stop_turn"),
    "stop": ("left_stop_turn", "right_stop_turn"),
}
"""What a converter makes separate wires from; a turn signal from its own side."""


def carrier(function: str, among: Collection[str], side: Side = "centre") -> str | None:
    """Return which of the functions `among` carries this one, or None.

    Parameters
    ----------
    function : str
        The function wanted.
    among : collection of str
        The functions there are.
    side : {"left", "right", "centre"}
        Where the load is: a right lamp is on the right tail lamp circuit where the two are
        apart.
    """
    if function in among:
        return function
    choices = STANDS_IN.get(function, ())
    if side == "right":
        choices = tuple(sorted(choices, key=lambda each: not each.endswith("_right")))
    return next((each for each in choices if each in among), None)


def inputs_of(output: str, fed: Collection[str]) -> tuple[str, ...]:
    """Return the vehicle feeds a converter makes an output from, the one that powers it first."""
    direct = carrier(output, fed)
    if direct is not None:
        return (direct,)
    made_from = COMBINED_FROM.get(output, SPLIT_FROM.get(output, ()))
    return tuple(each for each in made_from if each in fed)


def driving_input(
    output: str, inputs: tuple[str, ...], live: Collection[str], flashing: Collection[str]
) -> str | None:
    """Return the input that drives a converter's output, or None if the output is off.

    Parameters
    ----------
    output : str
        What the converter gives.
    inputs : tuple of str
        What it makes that from, as `inputs_of` says.
    live : collection of str
        Vehicle feeds that are on; of flashing ones, in the lit half.
    flashing : collection of str
        Those of them that flash.

    Notes
    -----
    Combining, a turn signal goes before the stop lamps. Splitting, a steady wire means stop and
    a flashing one its own turn signal; such a converter tells them apart after half a beat.
    """
    lit = [each for each in inputs if each in live]
    if output in SPLIT_FROM and output not in inputs:
        if output == "stop":
            return next((each for each in lit if each not in flashing), None)
        return inputs[0] if inputs and inputs[0] in lit and inputs[0] in flashing else None
    return lit[0] if lit else None
