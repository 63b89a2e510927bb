"""What a job file says of itself: its card in lists, and whether it can be used."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from loomwright.invalid import InvalidInput
from loomwright.rig.edit import write_value
from loomwright.rig.read import read_rig
from loomwright.rig.toml_text import without_mark
from loomwright.store.entry import folded

NAMELESS = "rig without a name"
LONGEST = 200
SEARCHED = (
    *(("rig", "name"), ("rig", "kind"), ("rig", "customer"), ("rig", "technician")),
    *(("vehicle", "name"), ("vehicle", "vin"), ("trailer", "name"), ("trailer", "kind")),
)
"""Entries of a job file that people search by."""


@dataclass(frozen=True, slots=True)
class Card:
    """A rig in a list: its names, the words it is found by, and whether its file can be used."""

    name: str = NAMELESS
    kind: str = ""
    vehicle: str = ""
    trailer: str = ""
    words: str = ""
    usable: bool = False


def card_of(text: str, before: Card, usable: bool) -> Card:
    """Return the card of a job file; what one that is no TOML cannot say stays as before."""
    data = _tables(text)
    if data is None:
        return replace(before, usable=usable)
    vehicle, trailer = _said(data, "vehicle", "name"), _said(data, "trailer", "name")
    both = f"{vehicle} and {trailer}" if vehicle and trailer else vehicle or trailer
    card = Card(
        name=_said(data, "rig", "name") or both or before.name,
        kind=_said(data, "rig", "kind"),
        vehicle=vehicle,
        trailer=trailer,
        words=folded(" ".join(_said(data, *place) for place in SEARCHED)),
        usable=usable,
    )
    return replace(card, words=folded(f"{card.name} {card.words}"))


def is_usable(text: str) -> bool:
    """Return whether a job file describes a rig that can be worked with."""
    usable = True
    try:
        read_rig(text)
    except* InvalidInput:
        usable = False
    return usable


def renamed(text: str, name: str) -> str:
    """Return a job file with another name in it; as it is, if it cannot be written there."""
    changed = text
    try:
        changed = write_value(text, "rig.name", name)
    except* InvalidInput:
        pass  # a draft that is no TOML: its name stands on the card alone
    return changed


def _tables(text: str) -> Mapping[str, Any] | None:
    """Return what stands in a file, None if it is no TOML."""
    try:
        return tomllib.loads(without_mark(text))
    except (tomllib.TOMLDecodeError, RecursionError):
        return None


def _said(data: Mapping[str, Any], table: str, key: str) -> str:
    """Return a text of a table, on one line; empty if it is not there or is no text."""
    inside = data.get(table)
    value = inside.get(key) if isinstance(inside, Mapping) else None
    return " ".join(value.split())[:LONGEST] if isinstance(value, str) else ""
