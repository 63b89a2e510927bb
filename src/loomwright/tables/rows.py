"""Read a table file into rows, telling exactly which cell is wrong."""

from __future__ import annotations

import csv
import io
from dataclasses import fields
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, ClassVar, Literal, Protocol, TypeVar, cast, get_type_hints

from loomwright.tables.cells import CellReader, cell_reader

if TYPE_CHECKING:
    from dataclasses import Field


class RowType(Protocol):
    """Any dataclass."""

    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]


Row = TypeVar("Row", bound=RowType)
Standing = Literal["found", "memory", "common practice"]
STANDING = cell_reader(Standing)


def read_rows(package: str, name: str, row: type[Row]) -> tuple[Row, ...]:
    """Read the table `name`.csv that lies in `package`; a second call costs nothing.

    Parameters
    ----------
    package : str
        Import path of the package that holds the file, e.g. ``loomwright.colours``.
    name : str
        Name of the file without ``.csv``; may lead through a folder: ``connectors/pins``.
    row : type
        Frozen dataclass; its fields are the columns, in any order. A field may be str, float,
        int, bool, a Literal, an Enum, any of these or None, or a tuple of any of these
        (``tuple[str, ...]``, separated by semicolons). An empty cell is None or an empty tuple.
        A field named ``standing`` holds a `Standing` even when it is declared as str.

    Returns
    -------
    tuple of `row`
        In the order of the file.

    Raises
    ------
    ValueError
        If a column is missing, unknown or doubled, or a cell cannot be read. Names the table,
        the line and the column: the table is ours, so this is a bug in it.
    TypeError
        If `row` has a field of a type no column can hold.
    FileNotFoundError
        If the package has no such table.
    """
    return cast("tuple[Row, ...]", _read_once(package, name, row))


@cache
def _read_once(package: str, name: str, row: type[RowType]) -> tuple[RowType, ...]:
    text = files(package).joinpath(f"{name}.csv").read_text(encoding="utf-8-sig")
    readers = _column_readers(row)
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    columns = next(lines, [])
    _check_columns(name, columns, readers)
    return tuple(
        _read_row(f"{name}.csv line {lines.line_num}", columns, cells, readers, row)
        for cells in lines
        if cells
    )


def _column_readers(row: type[RowType]) -> dict[str, CellReader]:
    hints = get_type_hints(row)
    readers = {field.name: cell_reader(hints[field.name]) for field in fields(row) if field.init}
    if "standing" in readers:
        readers["standing"] = STANDING
    return readers


def _check_columns(name: str, columns: list[str], readers: dict[str, CellReader]) -> None:
    wrong = [f"lacks the column {column}" for column in readers if column not in columns]
    wrong += [f"has an unknown column {column}" for column in columns if column not in readers]
    wrong += [f"has two columns {column}" for column in set(columns) if columns.count(column) > 1]
    if wrong:
        raise ValueError(f"{name}.csv {'; '.join(sorted(wrong))}")


def _read_row(
    place: str,
    columns: list[str],
    cells: list[str],
    readers: dict[str, CellReader],
    row: type[RowType],
) -> RowType:
    if len(cells) != len(columns):
        raise ValueError(f"{place} has {len(cells)} cells for {len(columns)} columns")
    values: dict[str, object] = {}
    for column, cell in zip(columns, cells, strict=True):
        try:
            values[column] = readers[column](cell.strip())
        except ValueError as problem:
            raise ValueError(f"{place}, column {column}: {cell!r} {problem}") from problem
    try:
        return row(**values)
    except ValueError as problem:
        raise ValueError(f"{place}: {problem}") from problem
