"""Adding, copying and taking out: feeds, sockets, legs, lamps and their lights, axles, loads."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from loomwright.drawing.function_words import function_words
from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import connector, connector_keys
from loomwright.reference.defaults import default_for
from loomwright.reference.functions import functions
from loomwright.rig.edit import write_value
from loomwright.web.describing.choices import title_of
from loomwright.web.describing.questions import Option
from loomwright.web.describing.writing import entries_at, value_at

Data = Mapping[str, Any]
LightKind = Literal["LED", "bulb"]

LISTS = re.compile(
    r"vehicle\.feed|socket|socket\[\d{1,3}\]\.leg|trailer\.(lamp|brake|appliance)"
    r"|trailer\.lamp\[\d{1,3}\]\.lights"
)
ENTRY = re.compile(
    rf"(?:{LISTS.pattern})(?:\[\d{{1,3}}\]|\.[a-z0-9_]+)"
    r"|(?:socket\[\d{1,3}\]\.lead|trailer\.cord)\.[a-z0-9_]+"
)
OTHER_SIDE = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}
SIDE_WORD = re.compile(r"(?<![a-z])(left|right)(?![a-z])", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class LampKind:
    """A lamp that most trailers have: what lights it, and where it sits."""

    key: str
    title: str
    words: str
    lights: tuple[str, ...]
    side: str = ""
    is_pair: bool = False
    counts_as: tuple[str, ...] = ()
    colour: str = ""


LAMPS = (
    LampKind("rear", "Rear lamps", "left and right: tail, stop and turn", ("tail", "+")),
    LampKind("plate", "Plate lamp", "", ("tail",), "left", counts_as=("plate_lamp",)),
    LampKind(
        *("rear-clearance", "Rear clearance", "a pair, red"),
        ("tail",),
        is_pair=True,
        counts_as=("clearance_rear", "side_marker_rear"),
    ),
    LampKind(
        *("front-marker", "Front marker", "a pair, amber"),
        ("tail",),
        is_pair=True,
        counts_as=("clearance_front", "side_marker_front"),
        colour="amber",
    ),
    LampKind(
        *("bar", "Identification bar", "three red lamps in the middle"),
        ("tail",),
        "centre",
        counts_as=("identification_rear",) * 3,
    ),
    LampKind("reverse", "Reversing lamps", "a pair, white", ("reverse",), is_pair=True),
    LampKind("fog", "Rear fog lamp", "", ("fog",), "centre"),
)
BY_KEY = {lamp.key: lamp for lamp in LAMPS}


def entry_path(path: str) -> str:
    """Return the path of an entry that may be copied or taken out.

    Raises
    ------
    InvalidInput
        If it is none.
    """
    if not ENTRY.fullmatch(path):
        raise InvalidInput("path", path, "name an entry of a list")
    return path


def list_path(path: str) -> str:
    """Return the path of a list that may be added to.

    Raises
    ------
    InvalidInput
        If it is none.
    """
    if not LISTS.fullmatch(path):
        raise InvalidInput("path", path, "name a list")
    return path


def missing_feeds(data: Data) -> tuple[tuple[Option, ...], tuple[Option, ...]]:
    """Return functions without a feed: those that a socket or converter asks for, and others."""
    there = {str(one.get("function")) for one in entries_at(data, "vehicle.feed")}
    wanted: dict[str, None] = {}
    for socket in entries_at(data, "socket"):
        key = socket.get("connector")
        if key in connector_keys() and socket.get("joins") != "converter":
            wanted |= {pin.function: None for pin in connector(key).pins if not pin.is_return}
    kinds = {row.key: row for row in functions() if row.kind in ("lamp", "supply", "brake")}
    asked = [key for key in wanted if key in kinds and key not in there]
    rest = [key for key in kinds if key not in there and key not in asked]
    return _options(asked), _options(rest)


def missing_lights(data: Data, number: int) -> tuple[Option, ...]:
    """Return the functions that may light a lamp and do not yet."""
    lit = value_at(data, f"trailer.lamp[{number}].lights")
    there = set(lit) if isinstance(lit, dict) else set()
    kinds = [row.key for row in functions() if row.kind == "lamp" and row.key not in there]
    return _options(kinds)


def with_entry(text: str, data: Data, path: str, entry: Mapping[str, Any]) -> tuple[str, int]:
    """Return a job file with an entry added to a list, and the number of the entry."""
    number = len(entries_at(data, path)) + 1
    return write_value(text, f"{path}[{number}]", dict(entry)), number


def with_lamps(text: str, data: Data, key: str, light: LightKind) -> tuple[str, int]:
    """Return a job file with lamps of a kind added, and the number of the first."""
    first = len(entries_at(data, "trailer.lamp")) + 1
    entries = _lamp_entries(BY_KEY[key], data, light)
    names = {str(one.get("name")) for one in entries_at(data, "trailer.lamp")}
    for number, entry in enumerate(entries, start=first):
        entry["name"] = _free(str(entry["name"]), names)
        text = write_value(text, f"trailer.lamp[{number}]", entry)
    return text, first


def with_light(text: str, path: str, function: str, light: LightKind) -> str:
    """Return a job file with another light in a lamp."""
    return write_value(text, f"{path}.{function}", light_text(function, light))


def light_text(function: str, light: LightKind) -> str:
    """Return the light that is usual for a function, as a job file has it."""
    if light == "LED":
        return "LED"
    key = default_for("bulb", function, "key").value_text
    filament = default_for("bulb", function, "filament").value_text
    return key if filament == "single" else f"{key} {filament}"


def with_copy(text: str, data: Data, path: str, function: str = "") -> tuple[str, int]:
    """Return a job file with an entry copied, and the number of the copy.

    A lamp of one side is copied to the other side; a feed needs another function; a socket joins
    the wires of the one it was copied from, and both stay alive.
    """
    listed = path.rpartition("[")[0]
    entry = copy.deepcopy(value_at(data, path))
    if not isinstance(entry, dict):
        raise InvalidInput("path", path, "name an entry that the rig has")
    if listed == "vehicle.feed":
        entry["function"] = function
    elif listed == "trailer.brake":
        axles = [one.get("axle") for one in entries_at(data, listed)]
        if "axle" in entry:
            entry["axle"] = max([len(axles), *(one for one in axles if isinstance(one, int))]) + 1
    else:
        entry = _mirrored(entry) if entry.get("side") in OTHER_SIDE else entry
        if listed == "socket":
            from_it = str(entry.get("name") or entry.get("connector"))
            entry |= {"join": "branched", "joins": from_it}
        names = {str(one.get("name")) for one in entries_at(data, listed)}
        entry["name"] = _free(str(entry.get("name") or entry.get("connector") or "copy"), names)
    return with_entry(text, data, listed, entry)


def _lamp_entries(kind: LampKind, data: Data, light: LightKind) -> list[dict[str, Any]]:
    if kind.key != "rear":
        return [_lamp_entry(kind, kind.title.lower(), kind.side, kind.lights, light)]
    is_separate = value_at(data, "trailer.signals") == "separate"
    lit = ("tail", "stop", "{}_turn") if is_separate else ("tail", "{}_stop_turn")
    return [
        _lamp_entry(kind, f"{side} rear", side, tuple(each.format(side) for each in lit), light)
        for side in ("left", "right")
    ]


def _lamp_entry(
    kind: LampKind, name: str, side: str, lights: tuple[str, ...], light: LightKind
) -> dict[str, Any]:
    entry: dict[str, Any] = {"name": name}
    if kind.is_pair:
        entry["sides"] = ["left", "right"]
    elif side:
        entry["side"] = side
    entry["lights"] = {function: light_text(function, light) for function in lights}
    if kind.colour:
        entry["colour"] = kind.colour
    if kind.counts_as:
        entry["counts_as"] = list(kind.counts_as)
    return entry


def _mirrored(entry: Mapping[str, Any]) -> dict[str, Any]:
    """Return a lamp as it is on the other side."""
    found = dict(entry) | {"side": OTHER_SIDE[str(entry["side"])]}
    if isinstance(entry.get("name"), str):
        found["name"] = SIDE_WORD.sub(lambda word: _other(word[0]), entry["name"])
    lights = entry.get("lights")
    if isinstance(lights, dict):
        found["lights"] = {_across(function): lights[function] for function in lights}
    return found


def _other(word: str) -> str:
    return OTHER_SIDE.get(word, word)


def _across(function: str) -> str:
    first, _, rest = function.partition("_")
    return f"{OTHER_SIDE[first]}_{rest}" if first in OTHER_SIDE else function


def _free(name: str, names: set[str]) -> str:
    """Return a name that is not taken: with a number behind it where it is."""
    found, number = name, 2
    while found in names:
        found, number = f"{name} {number}", number + 1
    names.add(found)
    return found


def _options(keys: list[str]) -> tuple[Option, ...]:
    titles = {row.key: row.title for row in functions()}
    return tuple(
        Option(key, title_of(key), "" if function_words(key) == titles[key] else titles[key])
        for key in keys
    )
