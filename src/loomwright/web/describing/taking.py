"""What a rig can take over: the feeds or loads of an earlier rig, the wires of a wire map."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from loomwright.rig.edit import write_value
from loomwright.store.wire_maps import MappedWire
from loomwright.web.describing.choices import title_of
from loomwright.web.describing.writing import entries_at, value_at

Data = Mapping[str, Any]
What = Literal["feeds", "loads"]
LOADS = (
    ("trailer.lamp", "lamp", "Lamps"),
    ("trailer.brake", "axle with brakes", "Brakes"),
    ("trailer.appliance", "appliance", "Appliances"),
    ("trailer.battery", "battery", "Trailer battery"),
    ("trailer.breakaway", "breakaway battery", "Breakaway"),
)
WIRE_KEYS = ("colour", "size", "found")


@dataclass(frozen=True, slots=True)
class Taken:
    """One thing that would be taken: what it is, how it stands there, and what it does here."""

    path: str
    title: str
    says: str
    effect: str
    colour: str = ""


def feeds_to_take(here: Data, there: Data) -> tuple[Taken, ...]:
    """Return the feeds of another rig as they would be taken into this one."""
    standing = {str(one.get("function")): one for one in entries_at(here, "vehicle.feed")}
    return tuple(
        Taken(
            str(feed.get("function")),
            title_of(str(feed.get("function"))),
            _words(feed, ("size", "length", "fuse", "found")),
            _effect(standing.get(str(feed.get("function"))), feed),
            str(feed.get("colour") or ""),
        )
        for feed in entries_at(there, "vehicle.feed")
    )


def loads_to_take(here: Data, there: Data) -> tuple[Taken, ...]:
    """Return the loads of another trailer as they would be taken into this one."""
    return tuple(
        Taken(path, title, _load_words(value), _load_effect(value_at(here, path), word))
        for path, word, title in LOADS
        if (value := value_at(there, path))
    )


def with_feeds(text: str, here: Data, there: Data, functions: Sequence[str]) -> str:
    """Return a job file with chosen feeds of another: the same function's is replaced."""
    for feed in entries_at(there, "vehicle.feed"):
        if feed.get("function") in functions:
            text = _put_feed(text, here, feed)
            here = _read(text)
    return text


def with_loads(text: str, there: Data, paths: Sequence[str]) -> str:
    """Return a job file with chosen loads of another in place of its own."""
    for path, _, _ in LOADS:
        value = value_at(there, path)
        if path in paths and value:
            text = write_value(text, path, None)
            entries = value if isinstance(value, list) else None
            if entries is None:
                text = write_value(text, path, copy.deepcopy(value))
            for number, entry in enumerate(entries or (), start=1):
                text = write_value(text, f"{path}[{number}]", copy.deepcopy(entry))
    return text


def wires_to_take(here: Data, wires: Sequence[MappedWire]) -> tuple[Taken, ...]:
    """Return the wires of a wire map as they would be taken into a rig."""
    standing = {str(one.get("function")): one for one in entries_at(here, "vehicle.feed")}
    return tuple(
        Taken(
            wire.function,
            title_of(wire.function),
            ", ".join(filter(None, (wire.size, wire.found, f"verified: {wire.verified_how}"))),
            _effect(standing.get(wire.function), wire.as_feed()),
            wire.colour,
        )
        for wire in wires
    )


def with_wires(text: str, here: Data, wires: Sequence[MappedWire], functions: Sequence[str]) -> str:
    """Return a job file with chosen wires of a wire map; what it does not say stays."""
    for wire in wires:
        if wire.function not in functions:
            continue
        number = _number(here, wire.function)
        if number is None:
            text = _put_feed(text, here, wire.as_feed())
        else:
            for key in WIRE_KEYS:
                if value := wire.as_feed().get(key):
                    text = write_value(text, f"vehicle.feed[{number}].{key}", value)
        here = _read(text)
    return text


def _put_feed(text: str, here: Data, feed: Mapping[str, Any]) -> str:
    number = _number(here, str(feed.get("function")))
    if number is None:
        number = len(entries_at(here, "vehicle.feed")) + 1
        return write_value(text, f"vehicle.feed[{number}]", copy.deepcopy(dict(feed)))
    standing = entries_at(here, "vehicle.feed")[number - 1]
    for key in standing.keys() - feed.keys():
        text = write_value(text, f"vehicle.feed[{number}].{key}", None)
    for key, value in feed.items():
        if standing.get(key) != value:
            text = write_value(text, f"vehicle.feed[{number}].{key}", copy.deepcopy(value))
    return text


def _number(here: Data, function: str) -> int | None:
    feeds = entries_at(here, "vehicle.feed")
    return next((n for n, one in enumerate(feeds, 1) if one.get("function") == function), None)


def _read(text: str) -> dict[str, Any]:
    from loomwright.rig.toml_text import read_toml, without_mark

    return read_toml(without_mark(text))


def _effect(standing: Mapping[str, Any] | None, new: Mapping[str, Any]) -> str:
    if standing is None:
        return "new here"
    differing = [key for key in new if standing.get(key) != new[key]]
    return f"changes {', '.join(differing)}" if differing else "the same here"


def _words(table: Mapping[str, Any], keys: Sequence[str]) -> str:
    return ", ".join(str(table[key]) for key in keys if table.get(key))


def _load_words(value: Any) -> str:
    entries = value if isinstance(value, list) else [value]
    return "; ".join(filter(None, map(_one_load, entries)))


def _one_load(entry: Mapping[str, Any]) -> str:
    lights = entry.get("lights")
    lit = ", ".join(dict.fromkeys(map(str, lights.values()))) if isinstance(lights, dict) else ""
    named = _words(entry, ("name", "chemistry", "capacity", "size", "power", "back"))
    return " ".join(filter(None, (named, f"({lit})" if lit else "")))


def _load_effect(standing: Any, word: str) -> str:
    if not standing:
        return "new here"
    if isinstance(standing, list):
        return f"replaces {len(standing)} {word}{'' if len(standing) == 1 else 's'}"
    return f"replaces the {word} here"
