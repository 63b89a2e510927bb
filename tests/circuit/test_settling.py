"""Fuses that open, loads that drop out, converters: which state a network comes to rest in."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from tests.circuit.networks import at_rest, stateful_networks

from loomwright.circuit import (
    Case,
    ConstantPower,
    Driver,
    Element,
    Fuse,
    Network,
    NoSettledState,
    Resistor,
    Source,
    Transformed,
    solve,
)


def test_the_fuse_nearest_the_fault_opens_alone() -> None:
    """Hand: 12 V on 0.3 ohm is 40 A, 2.96 times 13.5 A but 0.99 times 40.5 A."""
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 1e-4),
            Fuse("main", "post", "box", 1e-4, 30.0),
            Fuse("branch", "box", "feed", 1e-4, 10.0),
            Resistor("short", "feed", "0", 0.3),
        ]
    )
    solution = solve(network)

    assert solution.opened == ("branch",)
    assert abs(solution.currents_a["short"]) < 1e-7
    assert solution.floating == frozenset()


def test_fuses_in_parallel_open_one_after_the_other() -> None:
    """Hand: 24 A split 2:1 is 16 A and 8 A. The first opens at 13.5 A, then the second at 24 A."""
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 1e-4),
            Fuse("low", "post", "feed", 0.001, 10.0),
            Fuse("high", "post", "feed", 0.002, 10.0),
            Resistor("load", "feed", "0", 0.5),
        ]
    )

    assert solve(network).opened == ("low", "high")


def test_a_fuse_carries_its_rating_and_opens_at_its_opening_current() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 0.001),
            Fuse("fuse", "post", "feed", 0.001, 10.0, opens_at=1.35),
            Resistor("load", "feed", "0", 1.0),
        ]
    )

    def opened(current_a: float) -> tuple[str, ...]:
        return solve(network, Case(resistance_ohm={"load": 12.0 / current_a - 0.002})).opened

    assert opened(10.0) == ()
    assert opened(13.49) == ()
    assert opened(13.51) == ("fuse",)


def test_a_pulled_fuse_carries_nothing_and_is_not_said_to_have_opened() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 0.001),
            Fuse("fuse", "post", "feed", 0.001, 10.0),
            Resistor("load", "feed", "0", 0.1),
        ]
    )
    solution = solve(network, Case(closed={"fuse": False}))

    assert solution.opened == ()
    assert abs(solution.currents_a["load"]) < 1e-7


def test_voltage_returns_to_a_lamp_when_the_fuse_of_a_short_opens() -> None:
    """The short pulls the lamp below 7 V; once its fuse is open, the lamp comes back."""
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 0.05),
            ConstantPower("lamp", "post", "0", 3.0, 7.0, 8.0),
            Fuse("fuse", "post", "feed", 0.01, 20.0),
            Resistor("short", "feed", "0", 0.01),
        ]
    )
    solution = solve(network)

    assert solution.opened == ("fuse",)
    assert solution.off == frozenset()
    assert solution.currents_a["lamp"] == pytest.approx(3.0 / solution.across_v("lamp"))


def test_a_load_with_more_power_than_the_wire_can_bring_cycles() -> None:
    """Hand: at most E^2/4R = 455.6 W arrive over 0.1 ohm from 13.5 V; 480 W never do.

    It falls below its threshold, and without its draw the voltage is back: over and over.
    """
    network = Network(
        [
            Source("battery", "post", "0", 13.5, 0.1),
            ConstantPower("charger", "post", "0", 480.0, 9.0, 10.0),
        ]
    )
    with pytest.raises(NoSettledState, match="charger: drops out under load") as raised:
        solve(network)

    held_off = raised.value.solution
    assert raised.value.names == ("charger",)
    assert held_off is not None
    assert held_off.off == {"charger"}
    assert held_off.voltage_v("post") == pytest.approx(13.5, abs=1e-3)


@given(st.floats(-0.5, 0.5))
def test_at_the_limit_of_the_wire_a_load_stays_on_or_drops_out(over: float) -> None:
    """E^2/4R = 100 W for 20 V behind 1 ohm; a load that latches off settles on either side."""
    power_w = 100.0 + over
    network = Network(
        [
            Source("battery", "post", "0", 20.0, 1.0),
            ConstantPower("load", "post", "0", power_w, 6.0, math.inf),
        ]
    )
    solution = solve(network)

    if power_w <= 99.9:
        expected = 10.0 + math.sqrt(100.0 - power_w)
        assert solution.voltage_v("post") == pytest.approx(expected, abs=1e-6)
    elif power_w >= 100.001:
        assert solution.off == {"load"}


def test_the_weakest_of_two_loads_drops_out_and_the_other_lives() -> None:
    """Both on one long wire cannot stay; the farther one falls lower, goes, and stays away."""
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 0.5),
            ConstantPower("near", "post", "0", 30.0, 8.0, math.inf),
            Resistor("wire", "post", "end", 0.5),
            ConstantPower("far", "end", "0", 30.0, 8.0, math.inf),
        ]
    )
    solution = solve(network)

    # Hand: alone, V = (12 + sqrt(144 - 4 * 30 * 0.5))/2.
    assert solution.off == {"far"}
    assert solution.voltage_v("post") == pytest.approx((12.0 + math.sqrt(84.0)) / 2, abs=1e-4)


def test_a_dead_load_takes_only_its_rest_current() -> None:
    network = Network(
        [
            Source("battery", "post", "0", 6.0, 0.1),
            ConstantPower("lamp", "post", "0", 3.0, 7.0, 8.0, off_resistance_ohm=1e4),
        ]
    )
    solution = solve(network)

    assert solution.off == {"lamp"}
    assert solution.currents_a["lamp"] == pytest.approx(6.0 / 1e4, rel=1e-4)


def test_a_load_at_its_current_limit_takes_no_more() -> None:
    """Hand: 3 W at 12.8 V would be 0.234 A; held to 0.2 A behind 1 ohm, V = 12.6 V."""
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 1.0),
            ConstantPower("lamp", "post", "0", 3.0, 7.0, 8.0, max_current_a=0.2),
        ]
    )
    solution = solve(network)

    assert solution.currents_a["lamp"] == pytest.approx(0.2, abs=1e-8)
    assert solution.voltage_v("post") == pytest.approx(12.6, abs=1e-6)


def converter(heater_ohm: float, source_v: float = 12.8) -> Network:
    """A converter with a heater of its own on an output that shares the ground."""
    elements: list[Element] = [
        Source("battery", "post", "0", source_v, 0.02),
        Transformed("dc", "post", "0", "out", "0", 14.4, 0.05, 0.9, 20.0, 9.0),
        Resistor("heater", "out", "0", heater_ohm),
    ]
    return Network(elements)


@pytest.mark.parametrize("heater_ohm", [0.75, 1.0, 3.0, 100.0])
def test_a_converter_draws_its_output_power_over_its_efficiency(heater_ohm: float) -> None:
    """Output by Ohm's law; input from V (E - V)/R = P by SciPy's root finder."""
    solution = solve(converter(heater_ohm))

    output_v = 14.4 * heater_ohm / (heater_ohm + 0.05)
    input_w = output_v**2 / heater_ohm / 0.9
    input_v = brentq(lambda v: v * (12.8 - v) / 0.02 - input_w, 6.4, 12.8, xtol=1e-13)
    assert solution.voltage_v("out") == pytest.approx(output_v, abs=1e-6)
    assert solution.voltage_v("post") == pytest.approx(input_v, abs=1e-6)
    assert solution.outputs_a["dc"] == pytest.approx(output_v / heater_ohm, abs=1e-6)


def test_a_converter_droops_at_its_limit() -> None:
    """Hand: 20 A through 0.2 ohm is 4 V; input power 80 W / 0.9."""
    solution = solve(converter(0.2))

    assert solution.outputs_a["dc"] == pytest.approx(20.0, abs=1e-3)
    assert solution.voltage_v("out") == pytest.approx(4.0, abs=1e-3)
    input_w = solution.across_v("dc") * solution.currents_a["dc"]
    assert input_w == pytest.approx(80.0 / 0.9, rel=1e-4)


def test_a_converter_below_its_threshold_gives_nothing() -> None:
    solution = solve(converter(1.0, source_v=8.0))

    assert solution.off == {"dc"}
    assert abs(solution.voltage_v("out")) < 1e-3


def test_a_converter_takes_nothing_back() -> None:
    """A battery of 15 V on the output stands above the 14.4 V of the converter."""
    elements = [*converter(1e6).elements, Source("house", "out", "0", 15.0, 0.01)]
    solution = solve(Network(elements))

    assert solution.outputs_a["dc"] == pytest.approx(-15e-6, abs=1e-5)


def test_loads_behind_a_converter_go_off_with_it() -> None:
    elements = [
        *converter(1e6, source_v=8.0).elements,
        ConstantPower("lamp", "out", "0", 3.0, 7.0, 8.0),
    ]

    assert solve(Network(elements)).off == {"dc", "lamp"}


@given(stateful_networks())
def test_what_settles_agrees_with_itself(network: Network) -> None:
    """No fuse left whole should open; what is on has its voltage and power; Kirchhoff holds."""
    solution, cycling = at_rest(network)

    assert solution.kirchhoff_residual_a <= 1e-9
    for element in network.elements:
        across_v = solution.across_v(element.name)
        current_a = solution.currents_a[element.name]
        match element:
            case Fuse() if element.name not in solution.opened:
                assert abs(current_a) < element.opens_at * element.rating_a
            case ConstantPower() if element.name not in solution.off:
                assert across_v >= element.off_below_v
                assert across_v * current_a == pytest.approx(element.power_w, rel=1e-7)
            case Transformed() if element.name not in solution.off:
                out_v = solution.voltages_v[element.out_plus]
                out_v -= solution.voltages_v[element.out_minus]
                wanted_w = max(out_v * solution.outputs_a[element.name], 0.0) / 0.9
                assert across_v >= element.off_below_v
                assert across_v * current_a == pytest.approx(wanted_w, rel=1e-7, abs=1e-6)
                assert solution.outputs_a[element.name] <= element.max_current_a + 1e-3
            case ConstantPower() if element.name not in cycling:
                assert across_v < element.on_above_v
            case Transformed() if element.name not in cycling:
                assert across_v < element.off_below_v
            case _:
                pass


def shorted(*guards: Element, short_ohm: float = 0.3) -> Network:
    """A battery, what guards its feed in series, and a short behind it."""
    return Network(
        [
            Source("battery", "post", "0", 12.0, 1e-4),
            *guards,
            Resistor("short", "feed", "0", short_ohm),
        ]
    )


def test_a_breaker_that_resets_by_itself_cycles_on_a_short() -> None:
    """Hand: 12 V over 0.3 ohm is 40 A, far above 13.5 A, each time it closes."""
    network = shorted(Fuse("breaker", "post", "feed", 1e-4, 10.0, resets=True))
    with pytest.raises(NoSettledState, match="breaker: opens under load") as raised:
        solve(network)

    assert raised.value.names == ("breaker",)
    assert raised.value.solution is not None
    assert raised.value.solution.opened == ("breaker",)


def test_a_breaker_that_resets_stays_closed_if_a_fuse_has_opened_meanwhile() -> None:
    """Breaker and wire share the 60 A of a short behind a fuse.

    Hand: 30 A is 2.2 times 13.5 A, 60 A is 1.5 times 40.5 A: first the breaker opens, then
    the fuse. With the short gone the breaker carries half of 1 A.
    """
    network = Network(
        [
            Source("battery", "post", "0", 12.0, 1e-4),
            Fuse("breaker", "post", "box", 1e-4, 10.0, resets=True),
            Resistor("wire", "post", "box", 1e-4),
            Resistor("lamp", "box", "0", 12.0),
            Fuse("fuse", "box", "fault", 1e-4, 30.0),
            Resistor("short", "fault", "0", 0.2),
        ]
    )
    solution = solve(network)

    assert solution.opened == ("fuse",)
    assert solution.currents_a["breaker"] == pytest.approx(0.5, rel=0.01)


def test_a_driver_is_faster_than_the_fuse_before_it_and_latches() -> None:
    network = shorted(
        Fuse("fuse", "post", "box", 1e-4, 5.0),
        Driver("driver", "box", "feed", 0.01, closed=True, limit_a=20.0),
    )
    solution = solve(network)

    assert solution.opened == ("driver",)
    assert abs(solution.currents_a["short"]) < 1e-6


def test_a_driver_that_tries_again_cycles_on_a_short() -> None:
    driver = Driver("driver", "post", "feed", 0.01, closed=True, limit_a=20.0, latches=False)
    solution, cycling = at_rest(shorted(driver))

    assert cycling == ("driver",)
    assert solution.opened == ("driver",)


def test_a_driver_opens_where_it_finds_no_load() -> None:
    """Hand: 12 V on 240 ohm is 0.05 A, below 0.1 A; on 24 ohm it is 0.5 A."""

    def driver(*, closed: bool = True) -> Driver:
        return Driver("driver", "post", "feed", 0.01, closed=closed, limit_a=20.0, least_a=0.1)

    assert solve(shorted(driver(), short_ohm=240.0)).opened == ("driver",)
    assert solve(shorted(driver(), short_ohm=24.0)).opened == ()
    assert solve(shorted(driver(closed=False), short_ohm=240.0)).opened == ()
