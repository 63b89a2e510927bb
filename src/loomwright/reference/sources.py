"""Where every number and rule comes from."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known
from loomwright.tables import read_rows

PACKAGE = "loomwright.reference"


@dataclass(frozen=True, slots=True)
class Source:
    """A document; `edition` tells which, and how it was read where not at first hand."""

    key: str
    title: str
    publisher: str | None
    edition: str | None
    url: str | None
    accessed: str | None


def sources() -> tuple[Source, ...]:
    """Every source in the table."""
    return read_rows(PACKAGE, "sources", Source)


def source(key: str, field: str = "source") -> Source:
    """Return the source with this key; raise `InvalidInput` if none."""
    for row in sources():
        if row.key == key:
            return row
    raise InvalidInput(field, key, nearest_known(key, tuple(row.key for row in sources())))


def cited(text: str) -> tuple[tuple[str, str | None], ...]:
    """Split the source cell of a row into (key, place) pairs; place is None where not given."""
    parts = (one.partition(":") for one in text.split(";"))
    return tuple((key.strip(), place.strip() or None) for key, _, place in parts)
