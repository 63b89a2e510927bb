"""Colours of cables, looms and leads: which colour carries which function, by whose habit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from loomwright.colours import Colour, read_colour
from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import Connector, connector, connector_keys
from loomwright.reference.functions import parts_of
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

ConventionKind = Literal["cable", "vehicle", "lead"]


@dataclass(frozen=True, slots=True)
class ConventionRow:
    """The line of a convention in its table."""

    key: str
    title: str
    kind: ConventionKind
    connector: str | None
    regions: tuple[str, ...]
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class ConventionColour:
    """One colour of a convention; `pin` is None where no connector is meant."""

    convention: str
    pin: str | None
    function: str
    colour_text: str
    source: str
    standing: Standing

    @property
    def colour(self) -> Colour:
        """The colour, base and stripe."""
        return read_colour(self.colour_text)


@dataclass(frozen=True, slots=True)
class Convention:
    """Colours by pin or by function, as one kind of cable, loom or lead has them."""

    row: ConventionRow
    colours: tuple[ConventionColour, ...]

    @property
    def key(self) -> str:
        """Short name, such as ``13-core-grey-reverse``."""
        return self.row.key

    @property
    def title(self) -> str:
        """Name for people."""
        return self.row.title

    def entry_for(self, pin_or_function: str, field: str = "function") -> ConventionColour:
        """Return the entry of a pin number or a function id.

        Raises
        ------
        InvalidInput
            If the convention says nothing about it.
        """
        for entry in self.colours:
            if pin_or_function in (entry.pin, entry.function):
                return entry
        known = ", ".join(entry.function for entry in self.colours)
        raise InvalidInput(field, pin_or_function, f"the convention {self.key} has {known}")

    def colour_for(self, pin_or_function: str, field: str = "function") -> Colour:
        """Return the colour of a pin number or a function id; see `entry_for`."""
        return self.entry_for(pin_or_function, field).colour

    def functions_of(self, colour_text: str) -> tuple[str, ...]:
        """Functions that wires of this colour carry here, which may be none."""
        found = (entry.function for entry in self.colours if entry.colour_text == colour_text)
        return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class Clash:
    """One colour with two meanings; `is_partial` where one of them holds a part of the other."""

    colour_text: str
    function_a: str
    function_b: str
    is_partial: bool


def convention_keys() -> tuple[str, ...]:
    """Short names of every convention; each connector's own colours are one."""
    return connector_keys() + tuple(row.key for row in _rows())


@cache
def convention(key: str, field: str = "convention") -> Convention:
    """Return the convention with this short name, or the own colours of a connector.

    Raises
    ------
    InvalidInput
        If there is neither; names the nearest known.
    """
    if key in connector_keys():
        return _of_connector(connector(key))
    for row in _rows():
        if row.key == key:
            entries = read_rows(PACKAGE, "convention_colours", ConventionColour)
            return Convention(row, tuple(e for e in entries if e.convention == key))
    raise InvalidInput(field, key, nearest_known(key, convention_keys()))


def clashes(key_a: str, key_b: str) -> tuple[Clash, ...]:
    """Colours that two conventions share with different meanings, worked out from both."""
    return tuple(_clashes(convention(key_a), convention(key_b)))


def _clashes(a: Convention, b: Convention) -> Iterator[Clash]:
    for colour in dict.fromkeys(entry.colour_text for entry in a.colours):
        theirs = b.functions_of(colour)
        ours = a.functions_of(colour)
        for one in ours:
            for other in theirs:
                if one != other and other not in ours and one not in theirs:
                    overlap = parts_of(one) & parts_of(other)
                    yield Clash(colour, one, other, bool(overlap))


def _rows() -> tuple[ConventionRow, ...]:
    return read_rows(PACKAGE, "conventions", ConventionRow)


def _of_connector(shown: Connector) -> Convention:
    source, standing = shown.row.source, shown.row.standing
    row = ConventionRow(
        shown.key, shown.title, "cable", shown.key, shown.row.regions, source, standing
    )
    entries = (
        ConventionColour(
            shown.key,
            pin.number,
            pin.function,
            pin.colour_text,
            pin.source,
            pin.colour_standing or pin.standing,
        )
        for pin in shown.pins
        if pin.colour_text is not None
    )
    return Convention(row, tuple(entries))
