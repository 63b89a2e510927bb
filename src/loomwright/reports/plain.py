"""Domain values as plain JSON values."""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import TypeAlias

from loomwright.colours import Colour
from loomwright.quantities import WireSize

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | float | int | bool | None"

VERSION = 1
"""Version of the report formats; raised when a reader of the old form would break."""

SIGNIFICANT = 7
"""Digits a reading is told with: more than any meter shows, less than the solver's noise."""


def reading(value: float | None) -> float | None:
    """Return a number rounded to seven significant digits; None where there is no finite one."""
    if value is None or not math.isfinite(value):
        return None
    return float(f"{value:.{SIGNIFICANT}g}")


def plain(value: object) -> Plain:
    """Return a value as JSON takes it.

    Dataclasses become objects with the names of their fields, colours their code and words,
    wire sizes their name; numbers are rounded as `reading` does.

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
        case None | str() | bool() | int():
            result = value
        case float():
            result = reading(value)
        case tuple() | list():
            result = [plain(item) for item in value]
        case _ if is_dataclass(value):
            result = {part.name: plain(getattr(value, part.name)) for part in fields(value)}
        case _:
            raise TypeError(f"{type(value).__name__} has no place in a report")
    return result
