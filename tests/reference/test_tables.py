"""Every table, the colours included: known source, known standing, unique key, whole rows."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib.resources import files
from urllib.parse import urlsplit

import pytest

from loomwright.reference.sources import cited, sources

PACKAGES = ("loomwright.reference", "loomwright.colours", "loomwright.identify")
NOT_ROWS_OF_FACTS = {"sources", "tables"}
KEY_COLUMNS = {
    "lamps_sae": ("key", "system_v", "filament"),
    "lamps_un": ("key", "system_v", "filament"),
}
STANDINGS = {"found", "memory", "common practice"}
KEYS = {row.key for row in sources()}


def names() -> Iterator[tuple[str, str]]:
    for package in PACKAGES:
        for entry in files(package).iterdir():
            name = entry.name.removesuffix(".csv")
            if name != entry.name and name not in NOT_ROWS_OF_FACTS:
                yield package, name


def rows(package: str, name: str) -> list[dict[str, str]]:
    text = files(package).joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines(), strict=True))


FACTS = sorted(names())


@pytest.mark.parametrize(("package", "name"), FACTS)
def test_each_row_names_known_sources_and_its_standing(package: str, name: str) -> None:
    table = rows(package, name)

    assert table
    for row in table:
        assert row["standing"] in STANDINGS, row
        unknown = {key for key, _ in cited(row["source"])} - KEYS
        assert not unknown, row


@pytest.mark.parametrize(("package", "name"), FACTS)
def test_keys_are_unique_and_rows_are_whole(package: str, name: str) -> None:
    table = rows(package, name)

    assert all(None not in row and None not in row.values() for row in table)
    columns = KEY_COLUMNS.get(name, ("key",))
    if set(columns) <= set(table[0]):
        keys = [tuple(row[column] for column in columns) for row in table]
        assert len(keys) == len(set(keys))
    assert len({tuple(row.items()) for row in table}) == len(table)


def test_a_row_that_was_found_names_more_than_memory() -> None:
    """A source without an address that names no document makes common practice at best."""
    for package, name in FACTS:
        for row in rows(package, name):
            if row["standing"] == "found":
                assert {key for key, _ in cited(row["source"])} - {"memory"}, (name, row)


def test_sources_are_named_once_and_have_real_addresses() -> None:
    listed = [row.key for row in sources()]

    assert len(listed) == len(set(listed))
    for row in sources():
        if row.url is not None:
            parts = urlsplit(row.url)
            assert parts.scheme in {"http", "https"}
            assert "." in parts.netloc
