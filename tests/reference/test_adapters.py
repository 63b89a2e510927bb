"""Adapters of plugs and converters of signals."""

from __future__ import annotations

from itertools import product

import pytest

from loomwright.invalid import InvalidInput
from loomwright.reference.adapters import (
    Adapter,
    Signal,
    adapter,
    adapters,
    signal_converter,
    signal_converters,
)
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function, function_keys, parts_of

COMPATIBLE = {
    ("clearance", "tail"),
    ("spare", "coding"),
    ("coding", "spare"),
}


def name(row: Adapter) -> str:
    return f"{row.vehicle}-{row.trailer}"


def agree(one: str, other: str) -> bool:
    if function(one).is_return or function(other).is_return:
        return function(one).is_return and function(other).is_return
    return one == other or {(one, other), (other, one)} & COMPATIBLE != set()


@pytest.mark.parametrize("row", adapters(), ids=name)
def test_an_adapter_joins_contacts_of_one_function(row: Adapter) -> None:
    """Source: the contact allocations of the standards on both sides."""
    for left, right in row.pin_pairs:
        assert agree(
            connector(row.vehicle).pin(left).function, connector(row.trailer).pin(right).function
        )


def test_a_seven_way_blade_on_a_four_flat_trailer_loses_brake_supply_and_reverse() -> None:
    """Source: SAE J2863 and SAE J1239, contact allocations."""
    found = adapter("7-blade", "4-flat")

    assert found is not None
    assert found.lost == ("brake", "battery", "reverse")
    assert found.unfed == ()


def test_a_12n_leaves_the_supplies_of_a_thirteen_pin_trailer_dead() -> None:
    """Source: ISO 1724 and ISO 11446-1, contact allocations."""
    found = adapter("12n", "13-pin")

    assert found is not None
    assert found.unfed == ("reverse", "battery", "ignition", "coding")
    assert adapter("13-pin", "7-heavy") is None


def test_the_australian_round_plug_is_the_one_that_must_not_be_adapted() -> None:
    """Contact 5 is the electric brake there and the right tail lamp here.

    Source: AS 4177.5 and ISO 1724, contact allocations.
    """
    assert [name(row) for row in adapters() if not row.is_safe] == ["au-7-round-large-12n"]


def test_the_combining_converter_lets_the_turn_signal_win() -> None:
    """Each side follows its turn signal while that is on, and stop otherwise.

    Source: common practice; the same priority as 49 CFR 571.108 for combined lamps.
    """
    combine = signal_converter("combine")
    states: tuple[Signal, ...] = ("off", "flashing")
    steady: tuple[Signal, ...] = ("off", "on")
    for left, right, stop in product(states, states, steady):
        assert combine.outputs_for({"left_turn": left, "right_turn": right, "stop": stop}) == {
            "left_stop_turn": left if left != "off" else stop,
            "right_stop_turn": right if right != "off" else stop,
        }


def test_splitting_undoes_combining_but_for_stop_under_the_hazard_signal() -> None:
    """A law of the two converters, whatever their tables say."""
    combine, split = signal_converter("combine"), signal_converter("split")
    states: tuple[Signal, ...] = ("off", "flashing")
    steady: tuple[Signal, ...] = ("off", "on")
    for left, right, stop in product(states, states, steady):
        given: dict[str, Signal] = {"left_turn": left, "right_turn": right, "stop": stop}
        back = split.outputs_for(combine.outputs_for(given))
        if (left, right) == ("flashing", "flashing"):
            given["stop"] = "off"
        assert back == given


def test_a_single_steady_signal_cannot_be_split() -> None:
    with pytest.raises(InvalidInput, match="tells apart"):
        signal_converter("split").outputs_for({"left_stop_turn": "on"})


def test_converters_name_known_functions_and_serve_their_parts() -> None:
    """Source: the definition of a combined signal: one wire serves turn and stop."""
    for row in signal_converters():
        assert {*row.inputs, *row.outputs} <= set(function_keys())
    combine = signal_converter("combine")
    served = {part for out in combine.outputs for part in parts_of(out)}
    assert served == set(combine.inputs)
