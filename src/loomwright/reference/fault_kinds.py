"""Kinds of fault in the wiring of trailers: where, of what form, what shows, what proves them.

The keys are those of a catalogue shared with others who collect cases, and stay. Forms of fault
that no kind there tells of stand in a table of their own. How usual any of them is, is opinion:
nobody has counted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

Frequency = Literal["very common", "common", "occasional", "rare"]

WEIGHTS: dict[Frequency, float] = {
    "very common": 3.0,
    "common": 2.0,
    "occasional": 1.0,
    "rare": 0.5,
}
"""What a word of opinion is worth: little, so that what is seen soon outweighs it."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What a kind of fault shows at one place under one command: any of these words."""

    command: str
    at: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FaultKind:
    """One kind of fault.

    `circuits` are those it can be on; `any` stands for every one. `needs` names what a rig must
    have for it. `shows` holds what is typical beside what its form does to its circuit, each as
    ``command@place=word/word``; ``side`` in it is the side the fault is on.
    """

    key: str
    title: str
    place: str
    form: str
    circuits: tuple[str, ...]
    frequency: Frequency
    needs: tuple[str, ...]
    seen: str
    shows: tuple[str, ...]
    test: str
    mend: str
    source: str
    standing: Standing

    @property
    def weight(self) -> float:
        """What its frequency is worth against that of another."""
        return WEIGHTS[self.frequency]

    @property
    def signs(self) -> tuple[Shown, ...]:
        """What it typically shows."""
        return tuple(_shown(text) for text in self.shows)


@dataclass(frozen=True, slots=True)
class FaultForm:
    """A form of fault in a kind of place of which no kind in the catalogue tells."""

    place: str
    form: str
    frequency: Frequency
    source: str
    standing: Standing


def _shown(text: str) -> Shown:
    """Read ``command@place=word/word``.

    Raises
    ------
    ValueError
        If it is not of that form: the table is ours, so this is a bug in it.
    """
    command, _, rest = text.partition("@")
    at, _, words = rest.partition("=")
    if not (command and at and words):
        raise ValueError(f"{text!r} is not command@place=word")
    return Shown(command, at, tuple(words.split("/")))


def fault_kinds() -> tuple[FaultKind, ...]:
    """Every kind of fault, in the order of the catalogue."""
    return read_rows(PACKAGE, "fault_kinds", FaultKind)


def fault_forms() -> tuple[FaultForm, ...]:
    """Every form of fault beside those of the catalogue."""
    return read_rows(PACKAGE, "fault_forms", FaultForm)


def fault_kind(key: str, field: str = "fault") -> FaultKind:
    """Return the kind of fault with this key.

    Parameters
    ----------
    key : str
        Such as ``F48``.
    field : str
        Whose value it is, for the message.

    Raises
    ------
    InvalidInput
        If there is none.
    """
    for row in fault_kinds():
        if row.key == key.strip().upper():
            return row
    raise InvalidInput(field, key, nearest_known(key, tuple(row.key for row in fault_kinds())))
