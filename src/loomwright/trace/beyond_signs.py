"""What is typical of a kind of fault, looked up in its row for a place and a command."""

from __future__ import annotations

from functools import cache

from loomwright.reference.fault_kinds import FaultKind
from loomwright.trace.beyond_ways import Way
from loomwright.trace.beyond_words import Belief, mixed
from loomwright.trace.cases_words import Spot, read_command, read_spot, read_state

STANDS_FOR: dict[str, tuple[str, ...]] = {
    "rolling": ("rolling", "bump"),
    "bump": ("bump", "rolling"),
    "rain": ("rain",),
    "plug_in": ("plug_in", "rest", "key_on"),
    "key_on": ("key_on", "rest", "plug_in"),
    "rest": ("rest", "key_on", "plug_in"),
    "brake_lever": ("brake_lever",),
    "brake_pedal": ("brake_pedal",),
    "charge": ("charge", "key_on"),
}
"""For a command of a case, the commands of the table that tell of it, the nearest first."""

NEXT_BEST: dict[str, tuple[str, ...]] = {
    "rolling": ("brake_pedal", "brake_lever"),
    "bump": ("brake_pedal",),
    "brake_lever": ("brake_pedal",),
    "brake_pedal": ("brake_lever", "rolling"),
    "rain": ("rolling", "brake_pedal"),
}
"""Commands of the table that tell something of it: for messages and brakes alone."""


def sign(way: Way, command: str, spot: Spot) -> Belief | None:
    """Return what the row of a kind says of a place under a command, or None if nothing."""
    rows = _signs(way.kind, way.side)
    for wanted in STANDS_FOR.get(command, (command,)):
        if found := _matching(rows, wanted, spot):
            return found
    if spot.part in ("controller", "cluster", "brakes"):
        for wanted in NEXT_BEST.get(command, ()):
            if found := _matching(rows, wanted, spot):
                return found
    return _any(rows, command, spot)


ALONE = frozenset({"ground", "voltage"})
"""Names at a socket that "everything at the socket" does not speak of."""

Row = tuple[str, Spot, Belief]


def _matching(rows: tuple[Row, ...], command: str, spot: Spot) -> Belief | None:
    for exact in (True, False):
        found = [
            words
            for said, place, words in rows
            if said == command and _is_place(place, spot, exact=exact)
        ]
        if found:
            return mixed(*((1.0, words) for words in found))
    return None


def _any(rows: tuple[Row, ...], command: str, spot: Spot) -> Belief | None:
    """What is said of any command; of a case's any command, all that is said of the place."""
    for exact in (True, False):
        found = [
            words
            for said, place, words in rows
            if (said == "any" or command == "any") and _is_place(place, spot, exact=exact)
        ]
        if found and (exact or spot.part in ("socket", "controller", "cluster", "brakes")):
            return mixed(*((1.0, words) for words in found))
    return None


def _is_place(place: Spot, spot: Spot, *, exact: bool) -> bool:
    """Whether a place of the table is that of a case, or holds it."""
    if place.where != spot.where or place.part != spot.part:
        return False
    if exact:
        return place == spot
    name_fits = place.name == spot.name or (place.name == "all" and spot.name not in ALONE)
    side_fits = not place.side or not spot.side or place.side == spot.side
    if spot.part == "lamp":
        name_fits = place.name == spot.name
        side_fits = not place.side or place.side == spot.side
    return name_fits and side_fits


@cache
def _signs(kind: FaultKind, side: str) -> tuple[Row, ...]:
    """Return the row's signs with ``side`` and ``other`` put in; those of a side need one."""
    rows: list[Row] = []
    for shown in kind.signs:
        for of in (side,) if side else ("L", "R"):
            other = "R" if of == "L" else "L"
            name = {"L": "left", "R": "right"}[of]
            command = read_command(shown.command.replace("side", name))
            at = shown.at
            if not at.endswith("side.all"):
                at = at.replace(".side", f".{of}").replace(".other", f".{other}")
            place = read_spot(at)
            words = [read_state(word) for word in shown.words]
            kept = [word for word in words if word is not None]
            if command is None or place is None or not kept:
                raise ValueError(f"{kind.key}: {shown} is not in the vocabulary")
            row = (command, place, dict.fromkeys(kept, 1.0 / len(kept)))
            if row not in rows:
                rows.append(row)
    return tuple(rows)
