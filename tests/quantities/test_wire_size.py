"""Wire sizes of three systems are told apart and never guessed."""

from __future__ import annotations

import pytest

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize, WireSystem, read_wire_size, wire_sizes

SYSTEMS: tuple[WireSystem, ...] = ("awg", "sae", "mm2")


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("14 AWG", WireSize("awg", "14")),
        ("14awg", WireSize("awg", "14")),
        ("AWG 14", WireSize("awg", "14")),
        ("#14 AWG", WireSize("awg", "14")),
        ("14 ga AWG", WireSize("awg", "14")),
        ("1/0 AWG", WireSize("awg", "1/0")),
        ("0 AWG", WireSize("awg", "1/0")),
        ("00 AWG", WireSize("awg", "2/0")),
        ("14 ga", WireSize("sae", "14")),
        ("14 Gauge", WireSize("sae", "14")),
        ("14-gauge", WireSize("sae", "14")),
        ("14\u00a0SAE", WireSize("sae", "14")),
        ("2.5 mm2", WireSize("mm2", "2.5")),
        ("2.5mm²", WireSize("mm2", "2.5")),
        ("2,5 mm2", WireSize("mm2", "2.5")),
        ("2.50 sq mm", WireSize("mm2", "2.5")),
        ("0.35 mm^2", WireSize("mm2", "0.35")),
        ("1 mm²", WireSize("mm2", "1")),
    ],
)
def test_a_size_is_read_with_its_system(text: str, size: WireSize) -> None:
    """A plain gauge is vehicle primary wire, SAE J1128 (common practice)."""
    assert read_wire_size(text) == size


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_size_reads_back_from_what_it_shows(system: WireSystem) -> None:
    sizes = wire_sizes(system)

    assert [read_wire_size(str(size)) for size in sizes] == list(sizes)
    assert len(set(sizes)) == len(sizes)


@pytest.mark.parametrize("text", ["14", "#14", "2.5", "", "thick", "14 lb"])
def test_a_size_without_a_system_is_refused_naming_all_three(text: str) -> None:
    with pytest.raises(InvalidInput) as refused:
        read_wire_size(text, "feed.wire")

    assert refused.value.field == "feed.wire"
    assert all(system in refused.value.fix for system in ("AWG", "SAE", "mm²"))


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("13 SAE", "14 and 12 SAE"),
        ("22 ga", "20 and 18 SAE"),
        ("30 AWG", "24 and 23 AWG"),
        ("5/0 AWG", "3/0 and 4/0 AWG"),
        ("2.6 mm2", "2.5 and 3 mm²"),
        ("500 mm2", "95 and 120 mm²"),
    ],
)
def test_a_size_nobody_makes_is_refused_naming_the_nearest(text: str, nearest: str) -> None:
    with pytest.raises(InvalidInput) as refused:
        read_wire_size(text)

    assert refused.value.fix.endswith(f"the nearest are {nearest}")


def test_a_diameter_is_not_taken_for_an_area() -> None:
    with pytest.raises(InvalidInput, match="by area, not diameter"):
        read_wire_size("2.5 mm")


def test_a_size_made_in_code_is_checked_too() -> None:
    with pytest.raises(InvalidInput, match="nearest are 14 and 12 SAE"):
        WireSize("sae", "13")


@pytest.mark.parametrize("size", ["4/0", "1/0", "1", "2", "10", "12", "14", "16", "18", "20"])
def test_sizes_of_the_trade_exist_in_both_gauge_systems(size: str) -> None:
    """ASTM B258 and SAE J1128 both list these (from memory)."""
    assert WireSize("awg", size) != WireSize("sae", size)
