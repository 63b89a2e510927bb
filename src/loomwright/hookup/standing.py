"""What two colours say about a joint, and when they would mislead."""

from __future__ import annotations

from collections.abc import Iterable

from loomwright.hookup.model import End, Standing
from loomwright.reference.functions import function


def title(key: str) -> str:
    """Name of a function in words."""
    return function(key).title


def standing_of(
    left: End, right: End, lefts: Iterable[End], rights: Iterable[End]
) -> tuple[Standing, tuple[str, ...]]:
    """Return the standing of a joint and, for a trap, both meanings of each colour.

    A joint is a trap when following its colour would lead to another function: the colour of
    one side stands on the other side for something else.
    """
    meanings = (*_other_meanings(left, right, rights), *_other_meanings(right, left, lefts))
    if meanings:
        return Standing.TRAP, meanings
    if left.colour is None or right.colour is None:
        return Standing.UNKNOWN, ()
    if left.colour == right.colour:
        return Standing.SAME, ()
    return Standing.DIFFERENT, ()


def _other_meanings(end: End, partner: End, across: Iterable[End]) -> tuple[str, ...]:
    if end.colour is None or end.colour == partner.colour:
        return ()
    return tuple(
        f"{end.colour.words} is {title(end.function)} on the {end.of} side "
        f"and {title(other.function)} on the {other.of} side"
        for other in across
        if other.colour == end.colour
        and other.function not in (end.function, partner.function)
        and other.of != end.of
    )


def sentence(left: End, right: End, standing: Standing) -> str:
    """Say the joint in one plain sentence."""
    name = title(right.function)
    first, second = (_colour(end) for end in (left, right))
    match standing:
        case Standing.SAME:
            return f"{name}: {first} joins {second}; the colours agree."
        case Standing.DIFFERENT:
            return f"{name}: {first} joins {second}; the colours differ, which is normal."
        case Standing.TRAP:
            return f"{name}: {first} joins {second}; do not follow the colour."
        case _:
            return f"{name}: {first} joins {second}; go by the function you measured."


def _colour(end: End) -> str:
    words = end.colour.words if end.colour is not None else "wire of unknown colour"
    return f"{words} ({end.of})"
