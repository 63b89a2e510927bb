"""A table is read exactly, and a bad cell is named by table, line and column."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from loomwright.tables import Standing, read_rows

HERE = __name__.rpartition(".")[0]  # this package, whatever the root is called


@dataclass(frozen=True, slots=True)
class Lamp:
    """A row with every type a column can have."""

    name: str
    watts: float | None
    volts: float | None
    sealed: bool
    count: int | None
    uses: tuple[str, ...]
    limits: tuple[float, ...]
    source: str | None
    standing: Standing


@dataclass(frozen=True, slots=True)
class Plain:
    """A row of a text and a number."""

    name: str
    watts: float


@dataclass(frozen=True, slots=True)
class Claim:
    """A row whose standing is declared as text."""

    name: str
    standing: str


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A row no table can hold."""

    name: str
    watts: dict[str, float]


@dataclass(frozen=True, slots=True)
class Choosy:
    """A row that refuses some values."""

    name: str
    watts: float

    def __post_init__(self) -> None:
        if self.name == "turn" or self.watts > 20:
            raise ValueError("too bright")


def test_each_cell_takes_the_type_of_its_field_in_any_column_order() -> None:
    stop, _ = read_rows(HERE, "lamps", Lamp)

    assert stop == Lamp(
        name="stop, rear",
        watts=21.0,
        volts=13.5,
        sealed=True,
        count=2,
        uses=("stop", "turn"),
        limits=(6.0, 7.5),
        source="un-r37: sheet P21W/1",
        standing="found",
    )


def test_an_empty_cell_is_none_or_no_entries_and_never_zero() -> None:
    _, marker = read_rows(HERE, "lamps", Lamp)

    assert marker.watts is None
    assert marker.count is None
    assert marker.uses == ()
    assert marker.standing == "common practice"


def test_a_second_reading_gives_the_same_rows() -> None:
    assert read_rows(HERE, "lamps", Lamp) is read_rows(HERE, "lamps", Lamp)


@pytest.mark.parametrize(
    ("table", "message"),
    [
        ("empty_cell", r"empty_cell\.csv line 2, column watts: '' is not a number"),
        ("bad_number", r"bad_number\.csv line 3, column watts: 'lots' is not a number"),
        ("not_finite", r"line 2, column watts: 'nan' is not a finite number"),
        ("unknown_column", r"unknown_column\.csv has an unknown column power; lacks the column"),
        ("double_column", r"double_column\.csv has two columns name"),
        ("long_line", r"long_line\.csv line 2 has 3 cells for 2 columns"),
    ],
)
def test_a_bad_table_is_refused_by_place(table: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        read_rows(HERE, table, Plain)


def test_a_standing_outside_the_three_is_refused_even_when_declared_as_text() -> None:
    with pytest.raises(ValueError, match="column standing: 'rumour' is none of found, memory"):
        read_rows(HERE, "bad_standing", Claim)


def test_a_row_that_refuses_itself_is_named_by_line() -> None:
    with pytest.raises(ValueError, match=r"refused_row\.csv line 3: too bright"):
        read_rows(HERE, "refused_row", Choosy)


def test_a_field_no_column_can_hold_is_a_type_error() -> None:
    with pytest.raises(TypeError, match="cannot hold"):
        read_rows(HERE, "bad_number", Unreadable)


def test_an_absent_table_is_a_missing_file() -> None:
    with pytest.raises(FileNotFoundError):
        read_rows(HERE, "no_such_table", Plain)
