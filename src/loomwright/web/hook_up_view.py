"""What the hook-up's screen shows: which wire joins which, and the faces of socket and plug."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from loomwright.checks.rule import Work
from loomwright.checks.words import circuit
from loomwright.colours import Colour
from loomwright.drawing.faces import SIDE_WORDS, Half
from loomwright.drawing.folded_face import folded_face
from loomwright.drawing.function_words import function_words
from loomwright.hookup.model import End, Pair, Standing
from loomwright.reference.connectors import Side, connector
from loomwright.reference.joints import joint
from loomwright.rig.model import PinWire

OPEN = frozenset(
    {
        Standing.NO_FEED,
        Standing.NO_PARTNER,
        Standing.NEEDS_CONVERTER,
        Standing.LOST_IN_ADAPTER,
    }
)
"""Pairs of which one side is missing."""

SIDES: tuple[tuple[Side, str], ...] = (
    ("rear", "from the wire side"),
    ("face", "looking into it"),
)
"""The wire side first: that is where one works."""

Rank = Literal["must", "should", "plain"]


@dataclass(frozen=True, slots=True)
class Wired:
    """One side of a joint: what it is, or that nothing is there."""

    words: str
    colour: Colour | None
    has_wire: bool
    size: str


@dataclass(frozen=True, slots=True)
class Joined:
    """Two conductors that are joined; `rank` says how much their colours deceive."""

    function: str
    pin: str
    vehicle: Wired
    trailer: Wired
    joint: str
    standing: str
    rank: Rank
    says: str
    do: str
    meanings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """The pairs of one place where wires meet."""

    title: str
    left: str
    right: str
    rows: tuple[Joined, ...]


@dataclass(frozen=True, slots=True)
class PinRow:
    """One pin of a face: number, what it is for, and its wire."""

    pin: str
    function: str
    colour: Colour | None
    size: str


@dataclass(frozen=True, slots=True)
class Face:
    """A socket or a plug seen from one side, and its pins."""

    title: str
    side: str
    drawing: Markup
    is_sure: bool
    pins: tuple[PinRow, ...]


def tables(work: Work) -> tuple[Table, ...]:
    """Return where wires are joined, from the vehicle to the trailer."""
    splices = work.hookup.at("splice")
    found = []
    for name in dict.fromkeys(pair.socket for pair in splices):
        rows = tuple(_joined(pair) for pair in splices if pair.socket == name)
        inputs = name == "converter"
        title = "Inputs of the converter" if inputs else f"Joints of the {name}"
        right = "converter" if inputs else "lead"
        found.append(Table(title, "vehicle", right, rows))
    plug = [pair for pair in work.hookup.pairs if pair.stage != "splice"]
    if plug:
        title = f"Plug in the {work.rig.towing}"
        found.append(Table(title, "socket", "trailer", tuple(_joined(pair) for pair in plug)))
    return tuple(found)


def faces(work: Work, side: Side) -> tuple[Face, ...]:
    """Return the towing socket and the trailer's plug, both from one side."""
    socket, trailer = work.rig.towing_socket, work.rig.trailer
    lead = socket.lead
    if not any(wire.function == "ground" for wire in lead):
        ground = connector(socket.connector).pins_for("ground")[:1]
        lead = (*(PinWire(pin.number, "ground", socket.ground) for pin in ground), *lead)
    return (
        _face(f"Socket: {socket.name}", socket.connector, lead, "socket", side),
        _face("Plug of the trailer", trailer.plug, trailer.cord, "plug", side),
    )


def _face(title: str, key: str, wires: Sequence[PinWire], half: Half, side: Side) -> Face:
    kind = connector(key)
    return Face(
        title,
        SIDE_WORDS[half, side],
        Markup(folded_face(kind, side, half=half)),  # noqa: S704 the drawing escapes its text
        kind.is_layout_known,
        tuple(_pins(wires)),
    )


def _pins(wires: Sequence[PinWire]) -> Iterator[PinRow]:
    for wire in sorted(wires, key=lambda each: (len(each.pin), each.pin)):
        yield PinRow(wire.pin, function_words(wire.function), wire.wire.colour, str(wire.wire.size))


def _joined(pair: Pair) -> Joined:
    end = pair.trailer_side or pair.vehicle_side
    splice = pair.splice
    words = ""
    if splice is not None:
        words = joint(splice.kind).title
        if splice.barrel:
            words += f", {splice.barrel} barrel"
        if not splice.fits:
            words += ": does not take both wires"
    return Joined(
        function=circuit(pair.function),
        pin=(end.pin or "") if end is not None else "",
        vehicle=_wired(pair.vehicle_side),
        trailer=_wired(pair.trailer_side),
        joint=words,
        standing=pair.standing.value,
        rank=_rank(pair),
        says=pair.says,
        do=pair.do,
        meanings=pair.meanings,
    )


def _rank(pair: Pair) -> Rank:
    if pair.standing is Standing.TRAP:
        return "must"
    return "should" if pair.standing in OPEN else "plain"


def _wired(end: End | None) -> Wired:
    if end is None:
        return Wired("nothing", None, False, "")
    if end.of == "frame":
        return Wired("bare frame", None, False, "")
    if end.of == "converter" and end.colour is None:
        return Wired(f"terminal {function_words(end.function)}", None, False, "")
    size = "" if end.size is None else str(end.size)
    return Wired(end.place or end.of, end.colour, True, size)
