"""The tables of colours and codes are sound."""

from __future__ import annotations

from loomwright.colours import colour_names, legends, read_colour
from loomwright.colours.legends import Code, Legend, Word
from loomwright.tables import read_rows

PACKAGE = "loomwright.colours"


def test_every_code_belongs_to_a_legend_and_means_a_colour() -> None:
    rows = read_rows(PACKAGE, "codes", Code)

    assert {row.legend for row in rows} <= set(legends())
    assert {row.base for row in rows} <= set(colour_names())


def test_every_code_reads_as_its_own_legend_says() -> None:
    """LI stands for two colours in one German list, which cannot be settled."""
    rows = [row for row in read_rows(PACKAGE, "codes", Code) if row.code != "LI"]
    wrong = [
        row
        for row in rows
        if (read := read_colour(row.code, legend=row.legend)).base != row.base
        or read.stripe != row.stripe
    ]

    assert wrong == []


def test_no_legend_is_without_codes() -> None:
    """IEC letters and our own stand with the colours themselves."""
    rows = read_rows(PACKAGE, "codes", Code)

    assert set(legends()) - {row.legend for row in rows} == {"loomwright"}


def test_every_row_names_its_source_and_standing() -> None:
    keys = {
        *(row.source for row in read_rows(PACKAGE, "codes", Code)),
        *(row.source for row in read_rows(PACKAGE, "legends", Legend)),
        *(row.source for row in read_rows(PACKAGE, "words", Word)),
    }

    assert keys == {
        "iec-60757",
        "colour-words",
        *(f"legend-{legend}" for legend in legends() if legend != "iec-60757"),
    }


def test_letters_of_two_legends_agree_with_what_they_print() -> None:
    """Japanese maker 1: L blue, LG light green; British letters: U blue, S slate.

    As printed in those manuals (common practice), BS AU 7 from memory.
    """
    assert read_colour("L", legend="japan-1").base == "blue"
    assert read_colour("LG", legend="japan-1").base == "light_green"
    assert read_colour("U", legend="uk-au7").base == "blue"
    assert read_colour("S", legend="uk-au7").base == "grey"
