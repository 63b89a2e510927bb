"""Resistive networks against hand calculation."""

from __future__ import annotations

import pytest

from loomwright.circuit import Case, Network, Resistor, Source, solve

STIFF_OHM = 1e-6
"""Inner resistance small enough that a source holds its EMF within the tolerances below."""


def bridge(r1: float, r2: float, r3: float, r4: float, r5: float) -> Network:
    """Wheatstone bridge: r1 over r2 on the left, r3 over r4 on the right, r5 between."""
    return Network(
        [
            Source("battery", "top", "0", 12.0, STIFF_OHM),
            Resistor("r1", "top", "left", r1),
            Resistor("r2", "left", "0", r2),
            Resistor("r3", "top", "right", r3),
            Resistor("r4", "right", "0", r4),
            Resistor("r5", "left", "right", r5),
        ]
    )


def test_divider_shares_the_voltage_by_resistance() -> None:
    """Hand: 12 V over 1 ohm and 5 ohm; 12 * 5/6 = 10 V, 2 A."""
    divider = Network(
        [
            Source("battery", "top", "0", 12.0, STIFF_OHM),
            Resistor("upper", "top", "middle", 1.0),
            Resistor("lower", "middle", "0", 5.0),
        ]
    )

    solution = solve(divider)

    assert solution.voltage_v("middle") == pytest.approx(10.0, abs=1e-4)
    assert solution.currents_a["battery"] == pytest.approx(2.0, abs=1e-5)
    assert solution.across_v("upper") == pytest.approx(2.0, abs=1e-4)


def test_balanced_wheatstone_bridge_carries_nothing() -> None:
    """Hand: r1/r2 = r3/r4 = 1/2, so both sides stand at 12 * 2/3 = 8 V.

    The shunts at the nodes take 8 nA.
    """
    solution = solve(bridge(10.0, 20.0, 50.0, 100.0, 7.0))

    assert solution.voltage_v("left") == pytest.approx(8.0, abs=1e-4)
    assert solution.currents_a["r5"] == pytest.approx(0.0, abs=1e-8)


def test_unbalanced_bridge() -> None:
    """Hand, by Thevenin at r5.

    r1 = 10, r2 = 20, r3 = 20, r4 = 10: open circuit 12 * (2/3 - 1/3) = 4 V, behind
    10||20 + 20||10 = 40/3 ohm; with r5 = 20/3 ohm the current is 4 / 20 = 0.2 A.
    """
    solution = solve(bridge(10.0, 20.0, 20.0, 10.0, 20.0 / 3.0))

    assert solution.currents_a["r5"] == pytest.approx(0.2, abs=1e-6)


def test_ladder_of_r_and_2r_halves_at_every_rung() -> None:
    """Hand: an R-2R ladder ending in 2R halves the voltage at each rung (textbook)."""
    rungs = 8
    elements: list[Resistor | Source] = [Source("battery", "n0", "0", 256.0, STIFF_OHM)]
    for n in range(rungs):
        elements.append(Resistor(f"r{n}", f"n{n}", f"n{n + 1}", 10.0))
        last = n == rungs - 1
        elements.append(Resistor(f"rr{n}", f"n{n + 1}", "0", 10.0 if last else 20.0))

    solution = solve(Network(elements))

    for n in range(rungs + 1):
        assert solution.voltage_v(f"n{n}") == pytest.approx(256.0 / 2**n, rel=1e-6)


def test_two_sources_superpose() -> None:
    """Hand: 12 V behind 1 ohm and 6 V behind 2 ohm, both on 2 ohm (Millman).

    (12/1 + 6/2) / (1/1 + 1/2 + 1/2) = 7.5 V.
    """
    network = Network(
        [
            Source("one", "top", "0", 12.0, 1.0),
            Source("two", "top", "0", 6.0, 2.0),
            Resistor("load", "top", "0", 2.0),
        ]
    )

    solution = solve(network)

    assert solution.voltage_v("top") == pytest.approx(7.5, abs=1e-7)
    assert solution.currents_a["two"] == pytest.approx(-0.75, abs=1e-7)


def test_a_case_changes_values_only() -> None:
    """Hand: opening one of two equal resistors in parallel halves the current."""
    network = Network(
        [
            Source("battery", "top", "0", 10.0, STIFF_OHM),
            Resistor("one", "top", "0", 5.0),
            Resistor("two", "top", "0", 5.0),
        ]
    )

    opened = solve(network, Case(resistance_ohm={"two": float("inf")}))

    assert solve(network).currents_a["battery"] == pytest.approx(4.0, abs=1e-5)
    assert opened.currents_a["battery"] == pytest.approx(2.0, abs=1e-5)
