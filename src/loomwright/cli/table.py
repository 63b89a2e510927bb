"""`loomwright table`: the reference tables with their sources."""

from __future__ import annotations

from loomwright.cli.codes import DONE
from loomwright.cli.paint import Page, listing
from loomwright.reference import catalogue


def table(name: str | None = None, /) -> int:
    """Print reference table NAME with its sources; without NAME, list them.

    Parameters
    ----------
    name
        Name of a table.
    """
    page = Page()
    if name is None:
        found = (catalogue.table(key) for key in catalogue.table_names())
        page.show(listing(("table", "what it holds"), [(each.name, each.title) for each in found]))
        return DONE
    shown = catalogue.table(name)
    page.head(shown.title)
    if shown.about:
        page.line(shown.about)
    page.line()
    if _fits(page, shown):
        page.show(listing(shown.columns, shown.rows))
    else:
        _by_row(page, shown)
    return DONE


def _fits(page: Page, shown: catalogue.Table) -> bool:
    columns = zip(*(shown.columns, *shown.rows), strict=True)
    widths = [max(len(cell) for cell in column) for column in columns]
    return sum(widths) + 2 * (len(widths) - 1) <= page.width


def _by_row(page: Page, shown: catalogue.Table) -> None:
    """Print each row as a paragraph: its first cell, then every other that holds something."""
    for number, row in enumerate(shown.rows):
        if number:
            page.line()
        page.line(row[0], "place")
        filled = [(name, cell) for name, cell in zip(shown.columns, row, strict=True) if cell]
        for name, cell in filled[1:]:
            page.bullet(f"{name.replace('_', ' ')}:", cell, indent=2)
