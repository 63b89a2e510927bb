"""Functions that no reading of this vehicle can tell apart."""

from __future__ import annotations

from functools import lru_cache

from loomwright.identify.behaviour import NOT_FEEDS, behaviours, function_rows
from loomwright.identify.bundle import Bundle

Mark = tuple[object, ...]


@lru_cache(maxsize=64)
def alike(bundle: Bundle) -> tuple[tuple[str, ...], ...]:
    """Return the open functions in groups; within a group every reading is the same.

    The left and the right tail lamps answer one command; they are one group, as are a wire
    that carries nothing and one to leave alone: neither is to be used.
    """
    groups: dict[Mark, list[str]] = {}
    for function in bundle.open_functions:
        groups.setdefault(_mark(bundle, function), []).append(function)
    return tuple(tuple(group) for group in groups.values())


def _mark(bundle: Bundle, function: str) -> Mark:
    if function in NOT_FEEDS:
        return ("no feed",)
    row = function_rows()[function]
    ways = tuple(
        (
            way.needs_load,
            tuple(tuple(way.states_under(held).items()) for held in bundle.known_commands),
        )
        for way in behaviours()[function]
    )
    return (row.kind, row.signalling, frozenset(ways))
