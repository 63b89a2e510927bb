"""Which conductor carries a function where there is none of exactly that name.

What may serve what stands in `loomwright.rig.feeding`, with its sources.
"""

from __future__ import annotations

from collections.abc import Collection

from loomwright.rig.feeding import SPLIT_FROM, directly, made_from
from loomwright.rig.model import Side


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
    if function not in among and side == "right":
        own = [each for each in among if each.endswith("_right")]
        return directly(function, own) or directly(function, among)
    return directly(function, among)


def inputs_of(output: str, fed: Collection[str]) -> tuple[str, ...]:
    """Return the vehicle feeds a converter makes an output from, the one that powers it first."""
    direct = directly(output, fed)
    if direct is not None:
        return (direct,)
    return tuple(each for each in made_from(output) if each in fed)


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
