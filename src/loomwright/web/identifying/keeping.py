"""The bundle of a rig and its readings, as the event log tells them: a reload loses nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from loomwright.colours import Colour, read_colour
from loomwright.identify.bundle import Bundle
from loomwright.identify.plain import (
    bundle_from_plain,
    bundle_to_plain,
    reading_to_plain,
    readings_from_plain,
)
from loomwright.identify.reading import Reading, without_last
from loomwright.store.events import Event, Events

BEGUN, HEEDED, READ, BACK, NEVER, DROPPED = "begun", "heeded", "read", "back", "never", "dropped"
COLOURED = "coloured"


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of the bundle of one rig.

    Attributes
    ----------
    bundle : Bundle or None
        None before one is begun.
    readings : tuple of Reading
        What was read.
    is_heeded : bool
        Whether the cautions were read.
    seq : int
        Number of the last event; what is sent answers the page of this number, once.
    """

    bundle: Bundle | None = None
    readings: tuple[Reading, ...] = ()
    is_heeded: bool = False
    seq: int = 0


def topic(rig_id: str) -> str:
    """Return where the events of a rig stand."""
    return f"identify/{rig_id}"


def mark(rig_id: str, seq: int) -> str:
    """Return the mark of what answers a page: of two such answers, the first one counts."""
    return f"identify-{rig_id}-{seq}"


def kept(events: Events, rig_id: str) -> Kept:
    """Return what the events of a rig come to."""
    found = Kept()
    for event in _all(events, topic(rig_id)):
        found = replace(_after(found, event.payload), seq=event.seq)
    return found


def begun(bundle: Bundle) -> dict[str, Any]:
    """Return what tells that a bundle is begun."""
    return {"what": BEGUN, "bundle": bundle_to_plain(bundle)}


def read(readings: tuple[Reading, ...]) -> dict[str, Any]:
    """Return what tells of readings."""
    return {"what": READ, "readings": [reading_to_plain(each) for each in readings]}


def coloured(wire: str, colour: Colour | None) -> dict[str, Any]:
    """Return what tells the colour of a wire; None where nobody can tell."""
    return {"what": COLOURED, "wire": wire, "colour": colour.words if colour else ""}


def _all(events: Events, mine: str) -> Iterator[Event]:
    seq = 0
    while some := events.events_since(seq, mine):
        yield from some
        seq = some[-1].seq


def _after(before: Kept, payload: Mapping[str, Any]) -> Kept:
    bundle = before.bundle
    if payload["what"] == BEGUN:
        return Kept(bundle_from_plain(payload["bundle"]))
    if bundle is None or payload["what"] == DROPPED:
        return Kept()
    return _further(before, bundle, payload)


def _further(before: Kept, bundle: Bundle, payload: Mapping[str, Any]) -> Kept:
    match payload["what"]:
        case "read":
            more = readings_from_plain(bundle, payload["readings"])
            return replace(before, readings=before.readings + more)
        case "back":
            return replace(before, readings=without_last(before.readings))
        case "never":
            left = tuple(each for each in bundle.commands if each != payload["command"])
            return replace(before, bundle=replace(bundle, commands=left))
        case "coloured":
            changed = _with_colour(bundle, payload["wire"], payload["colour"])
            return replace(before, bundle=changed)
        case _:
            return replace(before, is_heeded=True)


def _with_colour(bundle: Bundle, key: str, words: str) -> Bundle:
    colour = read_colour(words) if words else None
    wires = tuple(
        replace(each, colour=colour) if each.key == key else each for each in bundle.wires
    )
    return replace(bundle, wires=wires)
