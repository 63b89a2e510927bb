"""Looking up any table as text."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.catalogue import Table, table, table_names


@pytest.mark.parametrize("name", table_names())
def test_each_table_can_be_shown(name: str) -> None:
    shown = table(name)

    assert isinstance(shown, Table)
    assert shown.name == name
    assert shown.title
    assert shown.rows
    assert all(len(row) == len(shown.columns) for row in shown.rows)


def test_each_listed_table_says_what_it_is_about() -> None:
    assert len(table_names()) == len(set(table_names()))
    assert table("pins").about
    assert table("colours").title == "Insulation colours"


def test_a_row_as_the_standard_has_it() -> None:
    """Contact 9 of the thirteen-pin is the permanent supply, with an orange core.

    Source: ISO 11446-1:2012, contact allocation; core colour of ISO 4141-3.
    """
    pins = table("pins")
    place = {column: n for n, column in enumerate(pins.columns)}
    (nine,) = (
        row
        for row in pins.rows
        if row[place["connector"]] == "13-pin" and row[place["number"]] == "9"
    )

    assert nine[place["function"]] == "battery"
    assert nine[place["colour_text"]] == "orange"


def test_hyphens_and_underscores_are_the_same() -> None:
    assert table("colour_traps") == table("colour-traps") == table(" Colour-Traps ")


def test_an_unknown_table_names_the_nearest() -> None:
    with pytest.raises(InvalidInput, match="did you mean connectors"):
        table("connector")
