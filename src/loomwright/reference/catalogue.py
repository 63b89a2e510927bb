"""Every table of the project as plain text, for people who want to look one up."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from loomwright.invalid import InvalidInput
from loomwright.reference.nearest import nearest_known

PACKAGES = ("loomwright.reference", "loomwright.colours", "loomwright.identify")
INDEX = "tables"
SUFFIX = ".csv"


@dataclass(frozen=True, slots=True)
class TableName:
    """Where a table lies and what it is called."""

    name: str
    package: str
    file: str
    title: str
    about: str


@dataclass(frozen=True, slots=True)
class Table:
    """One table as it stands in its file: every cell is text, an unknown one is empty."""

    name: str
    title: str
    about: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def table_names() -> tuple[str, ...]:
    """Names of every table: those with a title first, in their order, then any other."""
    return tuple(_index())


def table(name: str, field: str = "table") -> Table:
    """Return the table with this name; hyphens and underscores are the same.

    Raises
    ------
    InvalidInput
        If there is none; names the nearest known.
    """
    key = name.strip().lower().replace("_", "-")
    if key not in _index():
        raise InvalidInput(field, name, nearest_known(key, table_names()))
    place = _index()[key]
    columns, *rows = _lines(place.package, place.file)
    return Table(place.name, place.title, place.about, columns, tuple(rows))


@cache
def _index() -> dict[str, TableName]:
    _, *rows = _lines(PACKAGES[0], INDEX)
    listed = {row[0]: TableName(*row) for row in rows}
    known = {(place.package, place.file) for place in listed.values()}
    known.add((PACKAGES[0], INDEX))
    others = (place for place in _files() if (place.package, place.file) not in known)
    return listed | {place.name: place for place in others}


def _files() -> Iterator[TableName]:
    for package in PACKAGES:
        names = sorted(entry.name for entry in files(package).iterdir())
        for file in (name.removesuffix(SUFFIX) for name in names if name.endswith(SUFFIX)):
            name = file.replace("_", "-")
            yield TableName(name, package, file, name.replace("-", " ").capitalize(), "")


def _lines(package: str, file: str) -> list[tuple[str, ...]]:
    text = files(package).joinpath(file + SUFFIX).read_text(encoding="utf-8")
    return [tuple(cells) for cells in csv.reader(io.StringIO(text, newline=""), strict=True)]
