"""What one cell of a table may hold, by the type of its column."""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import Enum
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin

CellReader = Callable[[str], object]

TRUTH = {"true": True, "yes": True, "false": False, "no": False}
LIST_SEPARATOR = ";"


def cell_reader(annotation: Any) -> CellReader:
    """Return the function that reads a cell of this type.

    Raises
    ------
    TypeError
        If a table column cannot have this type.
    """
    if annotation in SIMPLE:
        return SIMPLE[annotation]
    origin: Any = get_origin(annotation)
    inside = get_args(annotation)
    if origin in (Union, UnionType) and len(inside) == 2 and NoneType in inside:
        (wanted,) = (kind for kind in inside if kind is not NoneType)
        return _or_none(cell_reader(wanted))
    if origin is tuple and len(inside) == 2 and inside[1] is Ellipsis:
        return _several(cell_reader(inside[0]))
    if origin is Literal:
        return _one_of({str(value): value for value in inside})
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return _one_of({str(member.value): member for member in annotation})
    raise TypeError(f"a table column cannot hold {annotation!r}")


def _text(cell: str) -> str:
    if not cell:
        raise ValueError("is empty, and this column may not be")
    return cell


def _number(cell: str) -> float:
    try:
        number = float(cell)
    except ValueError:
        raise ValueError("is not a number") from None
    if not math.isfinite(number):
        raise ValueError("is not a finite number")
    return number


def _whole_number(cell: str) -> int:
    try:
        return int(cell)
    except ValueError:
        raise ValueError("is not a whole number") from None


def _claim(cell: str) -> bool:
    try:
        return TRUTH[cell.lower()]
    except KeyError:
        raise ValueError(f"is none of {', '.join(TRUTH)}") from None


SIMPLE: dict[Any, CellReader] = {
    str: _text,
    float: _number,
    int: _whole_number,
    bool: _claim,
}


def _or_none(read: CellReader) -> CellReader:
    return lambda cell: read(cell) if cell else None


def _several(read: CellReader) -> CellReader:
    def read_all(cell: str) -> object:
        parts = cell.split(LIST_SEPARATOR) if cell else []
        return tuple(read(part.strip()) for part in parts)

    return read_all


def _one_of(values: dict[str, object]) -> CellReader:
    def read(cell: str) -> object:
        if cell not in values:
            raise ValueError(f"is none of {', '.join(values)}")
        return values[cell]

    return read
