"""Stated defaults: what stands in for a value the user left out, and on whose word.

Keys read like places: ``feed.tail.size``, ``cord.other.length``, ``supply.12.running_v``.
``other`` stands for every function without a row of its own. A row may have a twin for metric
or heavy rigs or the bonded flat four-way: ``metric.cord.tail.size``, ``heavy.cord.ground.size``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

Variant = Literal["metric", "heavy", "flat"]


@dataclass(frozen=True, slots=True)
class Default:
    """A default as a person writes it, ``18 AWG`` or ``13.8 V``, and what it says.

    `kind` tells how the text is read: a quantity (``length``, ``voltage``, ``wire_size`` ...)
    or the key of a table (``joint``, ``lamp``, ``insulation`` ...).
    """

    key: str
    value_text: str
    kind: str
    says: str
    source: str
    standing: str


def defaults() -> tuple[Default, ...]:
    """Return every stated default."""
    return read_rows(PACKAGE, "defaults", Default)


def default(key: str) -> Default:
    """Return a default by its full key.

    Raises
    ------
    InvalidInput
        If nothing is stated for that key.
    """
    rows = _by_key()
    if key not in rows:
        raise InvalidInput("default", key, "give a value: none is stated for this one")
    return rows[key]


def default_for(part: str, item: str, what: str, variant: Variant | None = None) -> Default:
    """Return the nearest default for one property of one item of a part.

    Parameters
    ----------
    part : str
        Part of the rig: ``feed``, ``lead``, ``cord``, ``run``, ``branch``, ``bulb``, ``led`` ...
    item : str
        Usually a function id (``tail``); for branches the kind of load (``lamp``).
    what : str
        The property: ``size``, ``length``, ``fuse`` ...; empty where an item has only one.
    variant : {"metric", "heavy", "flat"}, optional
        The family of the rig, whose rows come first.

    Raises
    ------
    InvalidInput
        If nothing is stated, neither for the item nor for ``other``.

    Notes
    -----
    Looked up in this order: variant and item, variant and ``other``, item, ``other``. So a
    metric rig never gets a gauge where a metric row of any kind exists.
    """
    plain = tuple(".".join(filter(None, (part, each, what))) for each in (item, "other"))
    first = tuple(f"{variant}.{key}" for key in plain) if variant else ()
    rows = _by_key()
    for key in (*first, *plain):
        if key in rows:
            return rows[key]
    return default(plain[0])


@cache
def _by_key() -> Mapping[str, Default]:
    rows = {row.key: row for row in defaults()}
    if len(rows) != len(defaults()):
        raise ValueError("defaults.csv: a key stands twice")
    return MappingProxyType(rows)
