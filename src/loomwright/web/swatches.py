"""A colour chosen by tapping: its base, then its stripe as it looks on that base."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from starlette.exceptions import HTTPException

from loomwright.colours import Colour, Pattern, colour_names

COMMON = ("black", "white", "red", "green", "blue", "yellow", "brown", "grey", "orange", "violet")
PATTERNS: tuple[tuple[Pattern, str], ...] = (
    ("stripe", "Stripe"),
    ("dots", "Dots"),
    ("hash", "Hash marks"),
)


@dataclass(frozen=True, slots=True)
class Swatch:
    """A colour to choose: its key, its words, and how the wire would look."""

    key: str
    words: str
    colour: Colour


@dataclass(frozen=True, slots=True)
class Swatches:
    """What there is to choose from, and what is chosen so far."""

    shown: Colour | None
    bases: tuple[Swatch, ...]
    stripes: tuple[Swatch, ...]
    patterns: tuple[tuple[Pattern, str], ...] = PATTERNS


def swatches(shown: Colour | None) -> Swatches:
    """Return every base and, as they look on the base chosen so far, every stripe."""
    base = shown.base if shown else "white"
    return Swatches(
        shown,
        tuple(Swatch(name, name.replace("_", " "), Colour(name)) for name in _ordered()),
        tuple(
            Swatch(name, name.replace("_", " "), Colour(base, name))
            for name in _ordered()
            if name != base
        ),
    )


def chosen_colour(base: str, stripe: str, pattern: str) -> Colour:
    """Return the colour that was tapped.

    Raises
    ------
    HTTPException
        404, if there is no such base or stripe.
    """
    names = colour_names()
    if base not in names or (stripe and stripe not in names):
        raise HTTPException(404)
    laid: Pattern = next((one for one in get_args(Pattern) if one == pattern), "stripe")
    if not stripe or stripe == base:
        return Colour(base)
    return Colour(base, stripe, laid)


def _ordered() -> tuple[str, ...]:
    return (*COMMON, *(name for name in colour_names() if name not in COMMON))
