"""Which vehicle conductors may be joined to which of the trailer, and where a converter is due.

What may serve what stands in `loomwright.rig.feeding`, with its sources.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from loomwright.rig.feeding import COMBINED_FROM, directly, feeders, made_from
from loomwright.rig.model import ConverterKind

SPARE_FUNCTIONS = frozenset({"spare", "coding"})
"""Pins that carry nothing a joint could serve."""


def may_join(vehicle_function: str, trailer_function: str) -> bool:
    """Whether a vehicle conductor may feed, or take home, this trailer conductor directly."""
    return vehicle_function in feeders(trailer_function)


def converter_between(vehicle_functions: Iterable[str], wanted: str) -> ConverterKind | None:
    """Return the kind of converter that makes a function from these, if one can."""
    if not set(made_from(wanted)) & set(vehicle_functions):
        return None
    return ConverterKind.COMBINE if wanted in COMBINED_FROM else ConverterKind.SPLIT


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
    direct = directly(output, fed)
    return made_from(output) or (output,) if direct is None else (direct,)
