"""What goes wrong on the way: colours with two meanings, and the other traps of the trade."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.reference.connectors import Severity
from loomwright.reference.conventions import convention
from loomwright.reference.functions import function
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"


@dataclass(frozen=True, slots=True)
class ColourTrap:
    """One colour that means one thing on some conventions and another on others."""

    key: str
    colour_text: str
    on_a: tuple[str, ...]
    function_a: str
    on_b: tuple[str, ...]
    function_b: str
    severity: Severity
    note: str | None
    source: str
    standing: Standing

    @property
    def says(self) -> str:
        """The trap in a sentence."""
        colour = self.colour_text.replace("/", " with ").replace("_", " ")
        one, other = function(self.function_a).title, function(self.function_b).title
        here = ", ".join(convention(key).title for key in self.on_a)
        there = ", ".join(convention(key).title for key in self.on_b)
        note = f" ({self.note})" if self.note else ""
        return f"{colour} is {one} on: {here}; but {other}{note} on: {there}"

    def is_between(self, key_a: str, key_b: str) -> bool:
        """Whether it lies between these two conventions, in either order."""
        return (key_a in self.on_a and key_b in self.on_b) or (
            key_b in self.on_a and key_a in self.on_b
        )


@dataclass(frozen=True, slots=True)
class Trap:
    """A trap of the trade; `connectors` is empty where it may lie anywhere."""

    key: str
    title: str
    severity: Severity
    connectors: tuple[str, ...]
    says: str
    do: str
    source: str
    standing: Standing


def traps(*connector_keys: str) -> tuple[Trap, ...]:
    """Traps that concern any of these connectors, those that lie anywhere included.

    Without arguments: every trap.
    """
    rows = read_rows(PACKAGE, "traps", Trap)
    if not connector_keys:
        return rows
    return tuple(
        row for row in rows if not row.connectors or set(row.connectors) & set(connector_keys)
    )


def colour_traps(key_a: str | None = None, key_b: str | None = None) -> tuple[ColourTrap, ...]:
    """Colour traps between two conventions, of one convention, or every one."""
    rows = read_rows(PACKAGE, "colour_traps", ColourTrap)
    if key_a is not None and key_b is not None:
        return tuple(row for row in rows if row.is_between(key_a, key_b))
    named = {key for key in (key_a, key_b) if key is not None}
    return tuple(row for row in rows if named <= {*row.on_a, *row.on_b})
