"""One insulation colour: base, stripe, and how the stripe is laid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal, get_args

from loomwright.invalid import InvalidInput
from loomwright.tables import Standing, read_rows

Pattern = Literal["stripe", "dots", "hash"]

PATTERN_WORDS: dict[Pattern, str] = {"stripe": "stripe", "dots": "dots", "hash": "hash marks"}
PATTERN_CODES: dict[Pattern, str] = {"stripe": "", "dots": "-D", "hash": "-H"}


@dataclass(frozen=True, slots=True)
class CanonicalColour:
    """A row of ``canonical.csv``: a colour's code, its swatch and the ink to write on it.

    Standards fix letters, not shades: the swatches are ours, chosen to be told apart.
    """

    name: str
    code: str
    legend: str
    rgb: str
    ink_rgb: str
    source: str
    standing: Standing


@cache
def canonical_colours() -> Mapping[str, CanonicalColour]:
    """Return every colour by its name, in the order of IEC 60757."""
    rows = read_rows("loomwright.colours", "canonical", CanonicalColour)
    return MappingProxyType({row.name: row for row in rows})


def colour_names() -> tuple[str, ...]:
    """Return the names a base or a stripe can have: ``black``, ``light_green`` ..."""
    return tuple(canonical_colours())


@dataclass(frozen=True, slots=True)
class Colour:
    """Colour of a conductor's insulation.

    Parameters
    ----------
    base : str
        One of `colour_names`.
    stripe : str, optional
        One of `colour_names`; None for a plain wire.
    pattern : {"stripe", "dots", "hash"}
        How the second colour is laid; ``stripe`` for a plain wire.

    Raises
    ------
    InvalidInput
        If a name is not known, or a pattern has no colour.
    """

    base: str
    stripe: str | None = None
    pattern: Pattern = "stripe"

    def __post_init__(self) -> None:
        _check_name("colour.base", self.base)
        if self.stripe is not None:
            _check_name("colour.stripe", self.stripe)
        elif self.pattern != "stripe":
            raise InvalidInput("colour.pattern", self.pattern, "give the colour of the pattern too")
        if self.pattern not in get_args(Pattern):
            fix = f"use one of {', '.join(get_args(Pattern))}"
            raise InvalidInput("colour.pattern", self.pattern, fix)

    @property
    def code(self) -> str:
        """Code as on a job sheet: ``GN/VT``; IEC 60757 letters where it has them, else ours."""
        base = canonical_colours()[self.base].code
        if self.stripe is None:
            return base
        return f"{base}/{canonical_colours()[self.stripe].code}{PATTERN_CODES[self.pattern]}"

    @property
    def words(self) -> str:
        """Plain English: ``green with violet stripe``."""
        base = self.base.replace("_", " ")
        if self.stripe is None:
            return base
        return f"{base} with {self.stripe.replace('_', ' ')} {PATTERN_WORDS[self.pattern]}"

    @property
    def base_rgb(self) -> str:
        """Swatch of the base, ``#RRGGBB``."""
        return canonical_colours()[self.base].rgb

    @property
    def stripe_rgb(self) -> str | None:
        """Swatch of the stripe, ``#RRGGBB``; None for a plain wire."""
        return None if self.stripe is None else canonical_colours()[self.stripe].rgb

    @property
    def ink_rgb(self) -> str:
        """Black or white, whichever reads better on the base, ``#RRGGBB``."""
        return canonical_colours()[self.base].ink_rgb


def _check_name(field: str, name: str) -> None:
    if name not in canonical_colours():
        raise InvalidInput(field, name, f"use one of {', '.join(colour_names())}")
