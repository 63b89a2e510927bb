"""The entries of a list as rows: each wire, socket, lamp, axle in a line, to be tapped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from loomwright.colours import Colour
from loomwright.quantities import Units, show_length
from loomwright.reference.connectors import connector, connector_keys
from loomwright.rig.model import PinWire, Rig
from loomwright.web.describing.answers import Facts
from loomwright.web.describing.choices import title_of
from loomwright.web.describing.parts import Part, Place, entry_title
from loomwright.web.describing.questions import Kind
from loomwright.web.describing.understood import colour_of, understood
from loomwright.web.describing.writing import entries_at, value_at

SAID: Mapping[str, tuple[tuple[str, Kind, str], ...]] = {
    "feeds": (
        ("size", "size", "{}"),
        ("length", "length", "{}"),
        ("fuse", "fuse", "fuse {}"),
        ("found", "text", "{}"),
    ),
    "sockets": (("connector", "connector", "{}"), ("location", "text", "{}")),
    "lamps": (("lights", "text", "{}"), ("back", "length", "{} behind the junction")),
    "brakes": (("size", "text", "{} drums"), ("back", "length", "{} behind the junction")),
    "supplies": (("power", "power", "{}"), ("back", "length", "{} behind the junction")),
}
"""What a row says of an entry: key, kind, and the words around the value."""


@dataclass(frozen=True, slots=True)
class Row:
    """One entry: where it is changed, its title, what is said of it, its wire if it is one."""

    address: str
    path: str
    title: str
    says: tuple[str, ...]
    has_wire: bool = False
    colour: Colour | None = None
    wrong: int = 0


def rows(part: Part, facts: Facts) -> tuple[Row, ...]:
    """Return the entries of a part, in the order of the file."""
    if not part.listed:
        return ()
    entries = entries_at(facts.data, part.listed)
    return tuple(_row(part, number, entry, facts) for number, entry in enumerate(entries, 1))


def _row(part: Part, number: int, entry: Mapping[str, Any], facts: Facts) -> Row:
    place = Place(part, number)
    is_feed = part.key == "feeds"
    colour = entry.get("colour")
    return Row(
        place.address,
        place.path,
        entry_title(part, number, entry),
        tuple(_said(part, entry, facts.units)),
        is_feed,
        colour_of(str(colour), facts.legend) if is_feed and colour else None,
        sum(one.field.startswith(place.path) for one in facts.problems),
    )


def _said(part: Part, entry: Mapping[str, Any], units: Units) -> Iterator[str]:
    for key, kind, words in SAID[part.key]:
        value = entry.get(key)
        if isinstance(value, dict):
            said = [f"{title_of(one).lower()} {value[one]}" for one in value]
            yield words.format(", ".join(said))
        elif value == "none" and kind == "fuse":
            yield "no fuse"
        elif kind == "connector" and value in connector_keys():
            yield connector(value).row.title
        elif value is not None:
            said_as = understood(kind, str(value), units) or str(value)
            yield words.format(said_as if kind == "text" else _unbroken(said_as))


def _unbroken(text: str) -> str:
    """Return a quantity that never breaks from its unit."""
    return text.replace(" ", "\u00a0").replace("mm2", "mm²")


def wires(place: Place, facts: Facts, rig: Rig | None) -> tuple[Row, ...]:
    """Return the wires of the lead or cord of a page; () if it has none, or the rig is a draft."""
    if rig is None or not place.lead or place.function:
        return ()
    number = place.number or 1
    lead = rig.trailer.cord if place.part.key == "trailer" else _lead(rig, place.number)
    return tuple(_wire(Place(place.part, number, one.function), one, facts) for one in lead)


def _lead(rig: Rig, number: int) -> tuple[PinWire, ...]:
    return rig.sockets[number - 1].lead if number else ()


def _wire(place: Place, pin: PinWire, facts: Facts) -> Row:
    wire = pin.wire
    is_own = value_at(facts.data, place.path) is not None
    says = (f"pin {pin.pin}", str(wire.size), show_length(wire.length_m, facts.units))
    return Row(
        place.address,
        place.path,
        title_of(pin.function),
        (*says, "differs from the rest") if is_own else says,
        True,
        wire.colour,
    )
