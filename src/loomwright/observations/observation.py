"""One observation: under which command, where, what, by which tester; as plain values too."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, TypeVar

from loomwright.invalid import InvalidInput, raise_all
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word


class Quantity(StrEnum):
    """What was read."""

    SEEN = "seen"  # a word
    VOLTS = "V"
    AMPS = "A"
    OHMS = "ohm"  # power off, plug out


@dataclass(frozen=True, slots=True)
class Observation:
    """What was seen or measured at one place.

    Attributes
    ----------
    command : str
        Key of the command that was held; empty with the power off, or where none matters.
    place : Place
        Where.
    quantity : Quantity
        Whether it is a word or a number, and of which unit.
    word : Word or None
        What was seen, if it is a word.
    value : float or None
        What was read, if it is a number, in the unit of the quantity.
    tester : str
        Key of a tester in the testers table; "eye" for what was only looked at.
    plugged : bool
        Whether the trailer was plugged in: a pin is loaded by it.
    note : str
        Anything else the person said.
    """

    command: str
    place: Place
    quantity: Quantity
    word: Word | None = None
    value: float | None = None
    tester: str = "eye"
    plugged: bool = True
    note: str = ""

    def __post_init__(self) -> None:
        if self.quantity is Quantity.SEEN:
            if self.word is None or self.value is not None:
                raise InvalidInput("word", self.word, "say what was seen in one of the words")
        elif self.value is None or not math.isfinite(self.value) or self.word is not None:
            raise InvalidInput("value", self.value, f"give the reading in {self.quantity}")


def to_plain(observation: Observation) -> dict[str, Any]:
    """Return an observation as plain values: for JSON, a store, a queue on a device."""
    place = observation.place
    given: dict[str, Any] = {
        "command": observation.command,
        "place": {
            key: value
            for key, value in (
                ("kind", str(place.kind)),
                ("name", place.name),
                ("pin", place.pin),
                ("other", place.other),
            )
            if value
        },
        "quantity": str(observation.quantity),
        "tester": observation.tester,
        "plugged": observation.plugged,
    }
    if observation.word is not None:
        given["word"] = str(observation.word)
    if observation.value is not None:
        given["value"] = observation.value
    if observation.note:
        given["note"] = observation.note
    return given


KEYS = frozenset({"command", "place", "quantity", "word", "value", "tester", "plugged", "note"})
PLACE_KEYS = frozenset({"kind", "name", "pin", "other"})


def from_plain(given: Mapping[str, Any], field: str = "observation") -> Observation:
    """Return the observation that plain values describe.

    Parameters
    ----------
    given : mapping
        As `to_plain` makes it.
    field : str
        Its path in whatever holds it, for messages.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every value that cannot be used.
    """
    problems: list[InvalidInput] = []
    found = given.get("place")
    place_given: Mapping[str, Any] = found if isinstance(found, Mapping) else {}
    for where, keys, known in (
        (field, given, KEYS),
        (f"{field}.place", place_given, PLACE_KEYS),
    ):
        problems += [
            InvalidInput(f"{where}.{key}", keys[key], "leave it out: there is no such field")
            for key in keys
            if key not in known
        ]
    kind = _member(PlaceKind, place_given.get("kind"), f"{field}.place.kind", problems)
    quantity = _member(Quantity, given.get("quantity"), f"{field}.quantity", problems)
    said = given.get("word")
    word = None if said is None else _member(Word, said, f"{field}.word", problems)
    value = given.get("value")
    if value is not None and (isinstance(value, bool) or not isinstance(value, int | float)):
        problems.append(InvalidInput(f"{field}.value", value, "give a number"))
    plugged = given.get("plugged", True)
    if not isinstance(plugged, bool):
        problems.append(InvalidInput(f"{field}.plugged", plugged, "say true or false"))
    names = {
        key: _text(place_given, key, f"{field}.place", problems) for key in ("name", "pin", "other")
    }
    said_of = {
        key: _text(given, key, field, problems, usual)
        for key, usual in (("command", ""), ("tester", "eye"), ("note", ""))
    }
    if kind is None or quantity is None or problems:
        raise_all(problems, field)
        raise TypeError("a member is missing and nothing was said of it")
    try:
        return Observation(
            place=Place(kind, **names),
            quantity=quantity,
            word=word,
            value=None if value is None else float(value),
            plugged=plugged,
            **said_of,
        )
    except InvalidInput as problem:
        raise ExceptionGroup(field, [problem.at(f"{field}.{problem.field}")]) from None


Choice = TypeVar("Choice", bound=StrEnum)


def _member(
    kind: type[Choice], given: object, field: str, problems: list[InvalidInput]
) -> Choice | None:
    for each in kind:
        if each == given:
            return each
    problems.append(InvalidInput(field, given, "use one of " + ", ".join(kind)))
    return None


def _text(
    given: Mapping[str, Any], key: str, field: str, problems: list[InvalidInput], usual: str = ""
) -> str:
    value = given.get(key, usual)
    if isinstance(value, str):
        return value
    problems.append(InvalidInput(f"{field}.{key}", value, "give it as text"))
    return usual
