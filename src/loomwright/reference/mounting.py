"""How sockets are fixed and breakaway leads are joined, as far as it was found."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"


@dataclass(frozen=True, slots=True)
class Mounting:
    """Screws of a socket and the circle its contacts stand on; hole sizes were not found."""

    connector: str
    contact_circle_mm: float | None
    screws: str | None
    note: str
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class BreakawayNote:
    """One thing to know when a breakaway switch or battery is wired."""

    key: str
    says: str
    source: str
    standing: Standing


def mounting(connector: str) -> Mounting | None:
    """Return how a socket is fixed, None where nothing was found."""
    rows = read_rows(PACKAGE, "mounting", Mounting)
    return next((row for row in rows if row.connector == connector), None)


def breakaway_wiring() -> tuple[BreakawayNote, ...]:
    """What to know about the leads of a breakaway kit."""
    return read_rows(PACKAGE, "breakaway_wiring", BreakawayNote)
