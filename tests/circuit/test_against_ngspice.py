"""Whole networks against ngspice, node by node, floating ones included."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.circuit.exact import exact_voltages
from tests.circuit.networks import LAWS, at_rest, large_rig, networks, stateful_networks
from tests.spice import run_decks

from loomwright.circuit import (
    Case,
    ConstantPower,
    Element,
    Fuse,
    Load,
    Network,
    Ohmic,
    Resistor,
    Solution,
    Source,
    Transformed,
    solve,
    spice_nodes,
    write_spice,
)

NODE_V = 1e-6


def furthest_v(network: Network, solution: Solution, simulated: dict[str, float]) -> float:
    """Largest difference between a solution and the voltages ngspice gives."""
    names = spice_nodes(network)
    return max(abs(solution.voltages_v[n] - simulated[names[n]]) for n in network.nodes)


@given(st.lists(networks(), min_size=5, max_size=10))
@settings(max_examples=20)
def test_random_networks(drawn: list[Network]) -> None:
    """Meshes, islands, open grounds, loads of every kind either way round, floating batteries."""
    solutions = [solve(network) for network in drawn]
    decks = [
        write_spice(network, Case(), "random", solution)
        for network, solution in zip(drawn, solutions, strict=True)
    ]

    for network, solution, simulated in zip(drawn, solutions, run_decks(decks), strict=True):
        names = spice_nodes(network)
        apart = {
            node
            for node in network.nodes
            if abs(solution.voltages_v[node] - simulated[names[node]]) > NODE_V
        }
        assert apart <= solution.floating
        exact = exact_voltages(network, solution) if apart else {}
        for node in apart:  # rounding of the simulator, where a part hangs on its shunts
            assert abs(solution.voltages_v[node] - exact[node]) <= 1e-8


@given(st.lists(stateful_networks(), min_size=5, max_size=10))
@settings(max_examples=10)
def test_random_networks_with_states(drawn: list[Network]) -> None:
    """The deck of what settled balances where we say; constant power stops the simulator early."""
    solutions = [at_rest(network)[0] for network in drawn]
    decks = [
        write_spice(network, Case(), "random", solution)
        for network, solution in zip(drawn, solutions, strict=True)
    ]

    for network, solution, simulated in zip(drawn, solutions, run_decks(decks), strict=True):
        names = spice_nodes(network)
        apart = {
            node
            for node in set(network.nodes) - solution.floating
            if abs(solution.voltages_v[node] - simulated[names[node]]) > 1e-5
        }
        exact = exact_voltages(network, solution) if apart else {}
        for node in apart:  # the simulator stops early, up to a millivolt where little flows
            assert abs(solution.voltages_v[node] - simulated[names[node]]) <= 2e-3
            assert abs(solution.voltages_v[node] - exact[node]) <= 1e-7


def test_faults_of_a_large_rig() -> None:
    """Whole; lost grounds; shorts between lamps; a pulled fuse; corrosion; all at once."""
    network = large_rig()
    infinite = float("inf")
    faults = [
        Case(),
        Case(resistance_ohm={"ground": infinite}),
        Case(resistance_ohm={"return4": infinite, "feed5": infinite}),
        Case(closed={"bridge0": True, "bridge5": True, "bridge10": True}),
        Case(closed={"fuse3": False, "switch0": True}),
        Case(resistance_ohm={"ground": 2.0, "feed1": 5.0}),
        Case(resistance_ohm={"ground": infinite, "return1": 3.0}, closed={"bridge15": True}),
        Case(emf_v={"battery": -12.8}),
        Case(law={"load1": Ohmic(1e-3)}),
    ]
    solutions = [solve(network, case) for case in faults]
    decks = [write_spice(network, c, "rig", s) for c, s in zip(faults, solutions, strict=True)]

    for solution, simulated in zip(solutions, run_decks(decks), strict=True):
        assert furthest_v(network, solution, simulated) <= NODE_V


def test_a_breakaway_battery_works_on_a_trailer_that_hangs_on_nothing() -> None:
    """Its own battery feeds magnets while the trailer has lost every wire to the vehicle."""
    network = Network(
        [
            Source("vehicle", "post", "0", 12.8, 0.01),
            Load("vehicle lamp", "post", "0", LAWS[0]),
            Source("trailer", "plus", "frame", 12.4, 0.02),
            Resistor("pin", "plus", "brakes", 0.05),
            Load("magnet 1", "brakes", "axle", Ohmic(3.2)),
            Load("magnet 2", "brakes", "axle", Ohmic(3.2)),
            Resistor("axle ground", "axle", "frame", 0.01),
        ]
    )
    solution = solve(network)
    (simulated,) = run_decks([write_spice(network, Case(), "breakaway", solution)])

    assert solution.floating == {"plus", "frame", "brakes", "axle"}
    # Hand: 12.4 V over 0.02 + 0.05 + 3.2/2 + 0.01 ohm.
    assert abs(solution.currents_a["trailer"] - 12.4 / 1.68) <= 1e-7
    # The shunts of the trailer carry no current in sum, so its four nodes sum to 0 V. The
    # simulator rounds that away by some 1e-5 V; against the frame the two agree.
    trailer = ["plus", "frame", "brakes", "axle"]
    assert abs(sum(solution.voltages_v[node] for node in trailer)) <= 1e-8
    for node in trailer:
        ours = solution.voltages_v[node] - solution.voltages_v["frame"]
        assert abs(ours - (simulated[node] - simulated["frame"])) <= NODE_V


def test_states_stand_in_the_deck_as_they_settled() -> None:
    """A blown fuse, constant power on and dropped out, a converter within and at its limit."""
    decks, pairs = [], []
    for heater_ohm in (1.0, 0.3):
        elements: list[Element] = [
            Source("battery", "post", "0", 12.8, 0.02),
            Fuse("fuse", "post", "tail", 0.005, 5.0),
            Resistor("short", "tail", "0", 0.5),
            Resistor("feed", "post", "lamp", 0.4),
            ConstantPower("led", "lamp", "0", 20.0, 7.0, 8.0, max_current_a=3.0),
            ConstantPower("dead", "tail", "0", 3.0, 7.0, 8.0),
            Transformed("dc", "post", "0", "out", "ground", 13.8, 0.02, 0.9, 15.0, 9.0),
            Transformed("dead dc", "tail", "0", "none", "ground", 13.8, 0.02, 0.9, 15.0, 9.0),
            Resistor("return", "ground", "0", 0.01),
            Resistor("heater", "out", "ground", heater_ohm),
        ]
        network = Network(elements)
        solution = solve(network)
        assert solution.opened == ("fuse",)
        assert solution.off == {"dead", "dead dc"}
        pairs.append((network, solution))
        decks.append(write_spice(network, Case(), "states", solution))

    for (network, solution), simulated in zip(pairs, run_decks(decks), strict=True):
        assert furthest_v(network, solution, simulated) <= NODE_V
