"""`loomwright table`: the reference tables with their sources."""

from __future__ import annotations

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from loomwright.cli.codes import DONE
from loomwright.cli.paint import console
from loomwright.reference import catalogue


def table(name: str | None = None) -> int:
    """Print reference table NAME with its sources; without NAME, list the tables.

    Parameters
    ----------
    name
        Name of a table.
    """
    out = console()
    if name is None:
        listing = Table(box=None, pad_edge=False)
        listing.add_column("table", no_wrap=True)
        listing.add_column("what it holds")
        for key in catalogue.table_names():
            listing.add_row(key, catalogue.table(key).title)
        out.print(listing)
        return DONE
    found = catalogue.table(name)
    out.print(Text(found.title, style="head"))
    out.print(Padding(Text(found.about), (0, 0, 1, 0)))
    rows = Table(box=None, pad_edge=False)
    for column in found.columns:
        rows.add_column(column, overflow="fold")
    for row in found.rows:
        rows.add_row(*(Text(str(cell)) for cell in row))
    out.print(rows)
    return DONE
