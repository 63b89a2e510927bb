"""Bundle and readings as plain values: for a readings file, the store, a queue on a device."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from enum import StrEnum
from typing import Any, TypeVar

from loomwright.colours import Colour, read_colour
from loomwright.identify.behaviour import Feeding, Signalling
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.reading import Reading, readings_of
from loomwright.identify.seen import Tester
from loomwright.invalid import InvalidInput, raise_all

BUNDLE_KEYS = tuple(each.name for each in fields(Bundle))
WIRE_KEYS = ("key", "colour", "size")
READING_KEYS = ("command", "wire", "tester", "seen", "value")
TEXT_LISTS = ("functions", "several", "commands")
NUMBERS = ("nominal_v", "wrong_rate", "colour_weight", "sure")
CLAIMS = ("at_socket", "helper")

Problems = list[InvalidInput]
Choice = TypeVar("Choice", bound=StrEnum)


def bundle_to_plain(bundle: Bundle) -> dict[str, Any]:
    """Return a bundle as plain values."""
    said: dict[str, Any] = {
        "wires": [
            {"key": wire.key}
            | ({"colour": wire.colour.words} if wire.colour else {})
            | ({"size": wire.size} if wire.size else {})
            for wire in bundle.wires
        ]
    }
    for name in (*TEXT_LISTS, "testers"):
        said[name] = [str(each) for each in getattr(bundle, name)]
    for name in ("signalling", "feeding"):
        if getattr(bundle, name) is not None:
            said[name] = str(getattr(bundle, name))
    return said | {name: getattr(bundle, name) for name in (*NUMBERS, *CLAIMS)}


def bundle_from_plain(given: object, field: str = "bundle") -> Bundle:
    """Return the bundle that plain values describe.

    Parameters
    ----------
    given : object
        A mapping as `bundle_to_plain` makes it; `wires` and `functions` must be there.
    field : str
        Its path in whatever holds it, for messages.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: Problems = []
    said = _mapping(given, BUNDLE_KEYS, field, problems)
    values: dict[str, Any] = {"wires": _wires(said.get("wires"), f"{field}.wires", problems)}
    for name in TEXT_LISTS:
        if name in said or name == "functions":
            values[name] = _texts(said.get(name), f"{field}.{name}", problems)
    for name, kind in (("signalling", Signalling), ("feeding", Feeding)):
        if said.get(name) is not None:
            values[name] = _member(kind, said[name], f"{field}.{name}", problems)
    if "testers" in said:
        found = _texts(said["testers"], f"{field}.testers", problems)
        testers = [_member(Tester, each, f"{field}.testers", problems) for each in found]
        values["testers"] = tuple(each for each in testers if each is not None)
    for name in NUMBERS:
        if name in said:
            values[name] = _number(said[name], f"{field}.{name}", problems)
    for name in CLAIMS:
        if name in said and not isinstance(said[name], bool):
            problems.append(InvalidInput(f"{field}.{name}", said[name], "say true or false"))
        elif name in said:
            values[name] = said[name]
    raise_all(problems, field)
    return Bundle(**values)


def reading_to_plain(reading: Reading) -> dict[str, Any]:
    """Return a reading as plain values."""
    said: dict[str, Any] = {
        "command": reading.command,
        "wire": reading.wire,
        "tester": str(reading.tester),
        "seen": str(reading.seen),
    }
    return said if reading.value is None else said | {"value": reading.value}


def readings_from_plain(
    bundle: Bundle, given: object, field: str = "readings"
) -> tuple[Reading, ...]:
    """Return the readings that plain values describe; a value overrules the word beside it.

    Parameters
    ----------
    bundle : Bundle
        What they are readings of.
    given : object
        A list of mappings as `reading_to_plain` makes them.
    field : str
        Its path in whatever holds it, for messages.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    if isinstance(given, str) or not isinstance(given, Sequence):
        raise InvalidInput(field, given, "give a list of readings")
    problems: Problems = []
    found: list[Reading] = []
    for place, each in enumerate(given):
        found += _readings(bundle, each, f"{field}[{place}]", problems)
    raise_all(problems, field)
    return tuple(found)


def _readings(bundle: Bundle, given: object, field: str, problems: Problems) -> tuple[Reading, ...]:
    mine: Problems = []
    said = _mapping(given, READING_KEYS, field, mine)
    texts = {}
    for name in ("command", "wire", "tester"):
        value = said.get(name, "meter" if name == "tester" else None)
        if not isinstance(value, str):
            mine.append(InvalidInput(f"{field}.{name}", value, "give it as text"))
        texts[name] = str(value)
    shown: str | float | None
    if "value" in said:
        shown = _number(said["value"], f"{field}.value", mine)
    else:
        shown = said.get("seen")
        if not isinstance(shown, str):
            mine.append(InvalidInput(f"{field}.seen", shown, "say what was seen, or give a value"))
    problems += mine
    if mine or shown is None:
        return ()
    try:
        return readings_of(bundle, texts["command"], texts["wire"], texts["tester"], shown)
    except ExceptionGroup as group:
        for problem in group.exceptions:
            if not isinstance(problem, InvalidInput):
                raise
            problems.append(problem.at(f"{field}.{problem.field}"))
        return ()


def _wires(given: object, field: str, problems: Problems) -> tuple[Wire, ...]:
    if isinstance(given, str) or not isinstance(given, Sequence):
        problems.append(InvalidInput(field, given, "give a list of wires"))
        return ()
    found = []
    for place, each in enumerate(given):
        at = f"{field}[{place}]"
        said = _mapping({"key": each} if isinstance(each, str) else each, WIRE_KEYS, at, problems)
        texts = {}
        for name in WIRE_KEYS:
            value = said.get(name, "")
            if not isinstance(value, str):
                problems.append(InvalidInput(f"{at}.{name}", value, "give it as text"))
            texts[name] = str(value)
        colour = _colour(texts["colour"], f"{at}.colour", problems)
        found.append(Wire(texts["key"], colour, texts["size"]))
    return tuple(found)


def _colour(text: str, field: str, problems: Problems) -> Colour | None:
    if not text:
        return None
    try:
        return read_colour(text)
    except InvalidInput as problem:
        problems.append(problem.at(field))
        return None


def _mapping(
    given: object, known: Sequence[str], field: str, problems: Problems
) -> Mapping[str, Any]:
    if not isinstance(given, Mapping):
        problems.append(InvalidInput(field, given, "give named values: " + ", ".join(known)))
        return {}
    problems += [
        InvalidInput(f"{field}.{key}", given[key], "leave it out: there is no such field")
        for key in given
        if key not in known
    ]
    return given


def _texts(given: object, field: str, problems: Problems) -> tuple[str, ...]:
    if isinstance(given, str) or not isinstance(given, Sequence):
        problems.append(InvalidInput(field, given, "give a list of words"))
        return ()
    problems += [
        InvalidInput(f"{field}[{place}]", each, "give it as text")
        for place, each in enumerate(given)
        if not isinstance(each, str)
    ]
    return tuple(str(each) for each in given)


def _number(given: object, field: str, problems: Problems) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float):
        problems.append(InvalidInput(field, given, "give a number"))
        return 0.0
    return float(given)


def _member(kind: type[Choice], given: object, field: str, problems: Problems) -> Choice | None:
    for each in kind:
        if each == given:
            return each
    problems.append(InvalidInput(field, given, "use one of " + ", ".join(kind)))
    return None
