"""Sizing by circular mils against published drop tables and worked examples."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

import pytest

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.conductors import (
    ampacity_a,
    circular_mils,
    circular_mils_needed,
    sizes,
    smallest_by_circular_mils,
)

FT = 0.3048
FILE = Path(__file__).parents[1] / "published" / "drop_tables.toml"
TABLES: dict[str, Any] = tomllib.loads(FILE.read_text(encoding="utf-8"))
Cell = tuple[float, float, str]


def cells(table: dict[str, Any]) -> Iterator[Cell]:
    """Current, length out and back in feet, printed size."""
    for row in table["rows"]:
        if "current_a" in row:
            for length_ft, size in zip(row["lengths_ft"], row["sizes"], strict=True):
                yield row["current_a"], length_ft, size
        else:
            for current_a, size in zip(row["currents_a"], row["sizes"], strict=True):
                yield current_a, row["length_ft"], size


def chosen(
    current_a: float, length_ft: float, drop_v: float, k: float, system: Literal["awg", "sae"]
) -> str | None:
    needed = circular_mils_needed(current_a, length_ft * FT, drop_v, k)
    size = smallest_by_circular_mils(needed, system)
    return None if size is None else size.size


def disagreements(table: dict[str, Any]) -> set[tuple[float, float]]:
    return {
        (current_a, length_ft)
        for current_a, length_ft, printed in cells(table)
        if chosen(current_a, length_ft, table["drop_v"], table["k"], table["system"]) != printed
    }


@pytest.mark.parametrize(
    ("name", "count"), [("abyc_table_ix", 89), ("ten_percent", 143), ("educational", 80)]
)
def test_every_cell_of_the_published_table_but_its_known_slips(name: str, count: int) -> None:
    """Sources: as told in tests/published/drop_tables.toml; the exceptions are named there."""
    table = TABLES[name]

    assert len(list(cells(table))) == count
    slips = {(slip["current_a"], slip["length_ft"]) for slip in table["exceptions"]}
    assert disagreements(table) == slips


def test_table_ix_is_built_on_sae_areas() -> None:
    """With AWG areas only 72 of its 89 cells come out."""
    table = TABLES["abyc_table_ix"] | {"system": "awg"}

    assert len(list(cells(table))) - len(disagreements(table)) == 72


def test_an_examination_problem() -> None:
    """K = 12.9, 180 ft one way, 30 A, 3.6 V: 38,700 circular mils, 4 AWG (41,740)."""
    needed = circular_mils_needed(30, 2 * 180 * FT, 3.6, 12.9)

    assert needed == pytest.approx(38_700)
    assert smallest_by_circular_mils(needed, "awg") == WireSize("awg", "4")


def test_the_bilge_pump() -> None:
    """10 A, 21 ft round trip: 6,271 circular mils at 12 V, 2,352 at 32 V, both 3 %.

    12 AWG (6,530) passes and 12 SAE (5,833) does not: 10 SAE. Source: a conductor size article.
    """
    at_12v = circular_mils_needed(10, 21 * FT, 0.36)

    assert at_12v == pytest.approx(6271, abs=1)
    assert circular_mils_needed(10, 21 * FT, 0.96) == pytest.approx(2352, abs=1)
    assert smallest_by_circular_mils(at_12v, "awg") == WireSize("awg", "12")
    assert smallest_by_circular_mils(at_12v, "sae") == WireSize("sae", "10")


def test_feet_times_amperes() -> None:
    """12 V, 10 %, 1,800 ft-A: 8 AWG. Source: proper wire sizing, example 1."""
    assert chosen(45, 40, 1.2, 10.75, "awg") == "8"


def test_ampacity_can_govern() -> None:
    """24 V, 3 %, 100 A over 10 ft: 8 AWG for the drop, 6 AWG for the heat. Example 2."""
    assert chosen(100, 10, 0.72, 10.75, "awg") == "8"
    fitting = [size for size in sizes("awg") if ampacity_a(size) >= 100]
    assert fitting[0] == WireSize("awg", "6")


def test_a_textbook_wire() -> None:
    """10.09 ohm-cmil/ft, 2,300 ft, 0.2 ohm: 116,035 circular mils, 2/0. Memory of that book."""
    needed = circular_mils_needed(25, 2300 * FT, 5.0, 10.09)

    assert needed == pytest.approx(116_035, rel=1e-5)
    assert smallest_by_circular_mils(needed, "awg") == WireSize("awg", "2/0")


def test_nothing_is_offered_where_the_largest_is_too_thin() -> None:
    assert smallest_by_circular_mils(1e6, "awg") is None
    among = [WireSize("awg", "18"), WireSize("awg", "4")]
    assert smallest_by_circular_mils(2000, "awg", among) == among[1]
    assert circular_mils(among[1]) > 2000


@pytest.mark.parametrize("drop_v", [0.0, -1.0, float("nan")])
def test_an_impossible_drop_is_refused(drop_v: float) -> None:
    with pytest.raises(InvalidInput):
        circular_mils_needed(10, 5, drop_v)
