"""What two colours say about a joint, and when they would mislead."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from loomwright.colours import Colour
from loomwright.hookup.model import End, Standing
from loomwright.hookup.schemes import may_join
from loomwright.reference.functions import function

TRAILER_SIDES = ("lead", "plug")

SHADES = {
    "dark_blue": "blue",
    "dark_brown": "brown",
    "dark_green": "green",
    "light_blue": "blue",
    "light_green": "green",
}
"""Shades that nobody tells apart under a vehicle."""


def title(key: str) -> str:
    """Name of a function in words."""
    return function(key).title


def headline(key: str) -> str:
    """Name of a function in words, to begin a sentence with."""
    words = title(key)
    return words[:1].upper() + words[1:]


def alike(one: Colour | None, other: Colour | None) -> bool:
    """Whether two insulations look the same in poor light: shades of one colour do."""
    return one is not None and other is not None and _plain(one) == _plain(other)


def standing_of(
    left: End, right: End, lefts: Iterable[End], rights: Iterable[End]
) -> tuple[Standing, tuple[str, ...]]:
    """Return the standing of a joint and, for a trap, both meanings of each colour.

    A joint is a trap when following its colour would lead to another function: the colour of
    one side stands on the other side for something that must not be joined to it.
    """
    meanings = (
        *_misleading(left, right, rights, lambda other: may_join(left.function, other)),
        *_misleading(right, left, lefts, lambda other: may_join(other, right.function)),
    )
    if meanings:
        return Standing.TRAP, meanings
    if left.colour is None or right.colour is None:
        return Standing.UNKNOWN, ()
    return (Standing.SAME if alike(left.colour, right.colour) else Standing.DIFFERENT), ()


def sentence(left: End, right: End, standing: Standing) -> str:
    """Say the joint in one plain sentence."""
    joint = f"{headline(right.function)}: {_colour(left)} joins {_colour(right)}"
    match standing:
        case Standing.SAME:
            return f"{joint}; the colours agree."
        case Standing.DIFFERENT:
            return f"{joint}; the colours differ, which is normal."
        case Standing.TRAP:
            return f"{joint}; do not follow the colour."
        case _:
            return f"{joint}; go by the function you measured."


def _misleading(
    end: End, partner: End, across: Iterable[End], harmless: Callable[[str], bool]
) -> tuple[str, ...]:
    if end.colour is None or alike(end.colour, partner.colour):
        return ()
    return tuple(
        _meanings(end, other)
        for other in across
        if alike(other.colour, end.colour) and not harmless(other.function)
    )


def _meanings(end: End, other: End) -> str:
    """Say what one colour is on both sides, the vehicle's side first."""
    first, second = (other, end) if end.of in TRAILER_SIDES else (end, other)
    words = "" if end.colour is None else end.colour.words
    return (
        f"{words} is {title(first.function)} on the {first.of} side "
        f"and {title(second.function)} on the {second.of} side"
    )


def _plain(colour: Colour) -> Colour:
    stripe = colour.stripe
    return replace(
        colour,
        base=SHADES.get(colour.base, colour.base),
        stripe=None if stripe is None else SHADES.get(stripe, stripe),
    )


def _colour(end: End) -> str:
    words = end.colour.words if end.colour is not None else "wire of unknown colour"
    return f"{words} ({end.of})"
