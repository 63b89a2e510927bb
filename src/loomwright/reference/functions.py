"""What a wire or a contact may carry: the functions and what they are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

Kind = Literal["lamp", "brake", "supply", "return", "control", "data", "spare"]


@dataclass(frozen=True, slots=True)
class Function:
    """One function: `parts` are the simpler ones that it serves on one wire."""

    key: str
    title: str
    kind: Kind
    parts: tuple[str, ...]
    source: str
    standing: Standing

    @property
    def is_return(self) -> bool:
        """Whether current comes back on this contact."""
        return self.kind == "return"


def functions() -> tuple[Function, ...]:
    """Every function, in the order of the table."""
    return read_rows(PACKAGE, "functions", Function)


def function_keys() -> tuple[str, ...]:
    """Ids of every function."""
    return tuple(row.key for row in functions())


def function(key: str, field: str = "function") -> Function:
    """Return the function with this id.

    Raises
    ------
    InvalidInput
        If there is none; names the nearest known.
    """
    for row in functions():
        if row.key == key:
            return row
    raise InvalidInput(field, key, nearest_known(key, function_keys()))


def parts_of(key: str) -> frozenset[str]:
    """Return the simple functions that one function serves: itself, if it has no parts."""
    return frozenset(function(key).parts or (key,))
