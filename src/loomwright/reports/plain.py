"""Domain values as plain JSON values."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from enum import Enum
from typing import TypeAlias

from loomwright.colours import Colour
from loomwright.quantities import WireSize

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | float | int | bool | None"

VERSION = 1
"""Version of the report formats; raised when a reader of the old form would break."""


def plain(value: object) -> Plain:
    """Return a value as JSON takes it.

    Dataclasses become objects with the names of their fields, colours their code and words,
    wire sizes their name.

    Raises
    ------
    TypeError
        If the value is of a kind no report holds.
    """
    match value:
        case Colour():
            result: Plain = {"code": value.code, "words": value.words}
        case WireSize():
            result = str(value)
        case Enum():
            result = str(value.value)
        case None | str() | bool() | int() | float():
            result = value
        case tuple() | list():
            result = [plain(item) for item in value]
        case frozenset() | set():
            result = [plain(item) for item in sorted(value, key=str)]
        case _ if is_dataclass(value):
            result = {part.name: plain(getattr(value, part.name)) for part in fields(value)}
        case _:
            raise TypeError(f"{type(value).__name__} has no place in a report")
    return result
