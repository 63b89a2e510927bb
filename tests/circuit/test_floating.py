"""Which nodes float: tied to the reference by less than 1e-5 S."""

from __future__ import annotations

from loomwright.circuit import (
    Case,
    Filament,
    LedCurrent,
    LedString,
    Load,
    Network,
    Resistor,
    Source,
    Switch,
    solve,
)


def test_a_wire_behind_an_open_switch_floats() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            Switch("switch", "post", "feed", 0.01, closed=False),
            Resistor("wire", "feed", "end", 0.1),
        ]
    )

    assert solve(network).floating == {"feed", "end"}
    assert solve(network, Case(closed={"switch": True})).floating == frozenset()


def test_the_leak_of_a_dark_led_holds_nothing_but_a_filament_does() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            Switch("one", "post", "led", 0.01, closed=False),
            Load("led lamp", "led", "0", LedString(7.0, 19.3)),
            Switch("two", "post", "bulb", 0.01, closed=False),
            Load("bulb lamp", "bulb", "0", Filament(12.8, 2.1)),
        ]
    )

    assert solve(network).floating == {"led"}


def test_a_lamp_at_its_current_limit_still_holds_what_it_feeds() -> None:
    """Its current hardly changes with the voltage there, yet the node is no loose end."""
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            Load("lamp", "post", "end", LedCurrent(7.0, 5.6, 0.25)),
            Load("small", "end", "0", LedCurrent(1.0, 0.5, 0.3)),
        ]
    )

    assert solve(network).floating == frozenset()


def test_an_island_without_a_source_stands_at_no_volts() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.01),
            Resistor("loose", "x", "y", 1.0),
        ]
    )
    solution = solve(network)

    assert solution.floating == {"x", "y"}
    assert solution.voltage_v("x") == 0.0
