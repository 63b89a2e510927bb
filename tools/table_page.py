"""The page that lists every table."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.reference.catalogue import Table, table, table_names

HEAD = """\
# The tables

Every number and every name the program knows stands in one of these tables, with its source and
its standing ([what the standings mean](../sources.md)). `loomwright table NAME` prints one with its
sources; `loomwright table sources` prints the documents.

In Python: `loomwright.reference.catalogue.table(name)`.
"""


def table_page() -> str:
    """Return the page."""
    return "\n".join([HEAD, *_rows(), "", *_details()])


def _rows() -> Iterator[str]:
    yield "| table | what it holds | rows | found | memory | common practice |"
    yield "| --- | --- | ---: | ---: | ---: | ---: |"
    for name in table_names():
        each = table(name)
        counts = " | ".join(_standings(each))
        yield f"| [`{name}`](#{name}) | {each.title} | {len(each.rows)} | {counts} |"


def _standings(each: Table) -> Iterator[str]:
    if "standing" not in each.columns:
        yield from ("", "", "")
        return
    place = each.columns.index("standing")
    said = [row[place] for row in each.rows]
    yield from (str(said.count(word) or "") for word in ("found", "memory", "common practice"))


def _details() -> Iterator[str]:
    for name in table_names():
        each = table(name)
        yield f"## {name}\n"
        about = f": {each.about[0].lower()}{each.about[1:]}" if each.about else ""
        yield f"{each.title}{about}.\n"
        yield "Columns: " + ", ".join(f"`{column}`" for column in each.columns) + ".\n"
