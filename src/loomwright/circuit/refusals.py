"""What a circuit refuses: numbers that no element can have."""

from __future__ import annotations

import math

from loomwright.invalid import InvalidInput


def need_positive(field: str, value: float, *, finite: bool = True) -> None:
    """Refuse zero, negative and NaN; refuse infinity too unless `finite` is False.

    Raises
    ------
    InvalidInput
        Naming `field`.
    """
    if not value > 0 or (finite and math.isinf(value)):
        raise InvalidInput(field, value, "enter a number greater than 0")


def need_finite(field: str, value: float) -> None:
    """Refuse NaN and infinity.

    Raises
    ------
    InvalidInput
        Naming `field`.
    """
    if not math.isfinite(value):
        raise InvalidInput(field, value, "enter a finite number")


def need_between(field: str, value: float, low: float, high: float) -> None:
    """Refuse what lies outside `low` to `high`, both included, and NaN.

    Raises
    ------
    InvalidInput
        Naming `field`.
    """
    if not low <= value <= high:
        raise InvalidInput(field, value, f"enter a number from {low:g} to {high:g}")


def need_name(field: str, value: str) -> None:
    """Refuse an empty name.

    Raises
    ------
    InvalidInput
        Naming `field`.
    """
    if not value.strip():
        raise InvalidInput(field, value, "give it a name")


def need_two_nodes(name: str, a: str, b: str) -> None:
    """Refuse an element without two different, named ends.

    Raises
    ------
    InvalidInput
        Naming the element.
    """
    need_name(f"{name}: node", a)
    need_name(f"{name}: node", b)
    if a == b:
        raise InvalidInput(name, a, "join two different nodes")
