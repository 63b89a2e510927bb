"""Single loads behind wire, against SciPy's root finder and closed forms."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.optimize import brentq

from loomwright.circuit import (
    ChargingBattery,
    ConstantPower,
    Filament,
    Law,
    LedCurrent,
    LedString,
    Load,
    Network,
    Ohmic,
    Resistor,
    Source,
    solve,
)

MAJOR = Filament(12.8, 2.1)
MINOR = Filament(14.0, 0.59)


def root(residual: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(residual, low, high, xtol=1e-13, rtol=1e-14))


@pytest.mark.parametrize("ohm", [0.01, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0, 50.0])
@pytest.mark.parametrize(
    "law",
    [MAJOR, LedString(7.0, 19.3), LedCurrent(7.0, 5.6, 0.25), ChargingBattery(12.2, 0.08)],
    ids=lambda law: type(law).__name__,
)
def test_a_load_behind_a_resistance(law: Law, ohm: float) -> None:
    """(12.8 V - V)/R = I(V), with the node's shunt of 1e-9 S."""
    network = Network([Source("battery", "lamp", "0", 12.8, ohm), Load("load", "lamp", "0", law)])

    expected = root(lambda v: (12.8 - v) / ohm - law.current_a(v) - 1e-9 * v, 0.0, 12.8)
    assert solve(network).voltage_v("lamp") == pytest.approx(expected, abs=1e-9)


def test_two_filaments_in_series_after_a_lost_ground() -> None:
    """The small filament takes nearly all the voltage: it lights, the large one stays dark."""
    network = Network(
        [
            Source("battery", "post", "0", 12.8, 1e-6),
            Load("major", "post", "middle", MAJOR),
            Load("minor", "middle", "0", MINOR),
        ]
    )

    expected = root(lambda v: MAJOR.current_a(12.8 - v) - MINOR.current_a(v) - 1e-9 * v, 0.0, 12.8)
    assert solve(network).across_v("minor") == pytest.approx(expected, abs=1e-5)
    assert expected > 12.0


@pytest.mark.parametrize(
    ("emf_v", "ohm", "power_w"), [(12.0, 0.05, 240.0), (13.5, 0.1, 450.0), (24.0, 1.0, 3.0)]
)
def test_constant_power_keeps_the_higher_voltage(emf_v: float, ohm: float, power_w: float) -> None:
    """Closed form: V = (E + sqrt(E^2 - 4 P R))/2 (quadratic of V (E - V)/R = P).

    The shunt of the node takes 1e-9 S * E more, which the resistance turns into volts.
    """
    network = Network(
        [
            Source("battery", "lamp", "0", emf_v, ohm),
            ConstantPower("load", "lamp", "0", power_w, 5.0, 5.0),
        ]
    )

    solution = solve(network)

    expected = (emf_v + math.sqrt(emf_v**2 - 4.0 * power_w * ohm)) / 2.0
    assert solution.voltage_v("lamp") == pytest.approx(expected, abs=3e-9 * emf_v * ohm + 1e-9)
    assert solution.off == frozenset()


def test_eight_magnets_behind_a_harness() -> None:
    """Hand: 3.2/8 = 0.4 ohm behind 0.125 ohm from 13.2 V: 25.14 A, 10.06 V at the magnets.

    A trailer with 24 A and 10.2 V at the magnets was measured from the same 13.2 V (its
    magnets were warm). Source: a published case of eight 12-inch brakes, common practice.
    """
    network = Network(
        [
            Source("plug", "plug", "0", 13.2, 1e-6),
            Resistor("loop", "plug", "axle", 0.125),
            *(Load(f"magnet{n}", "axle", "0", Ohmic(3.2)) for n in range(8)),
        ]
    )
    solution = solve(network)

    assert solution.voltage_v("axle") == pytest.approx(13.2 * 0.4 / 0.525, abs=1e-4)
    assert solution.currents_a["loop"] == pytest.approx(24.0, rel=0.06)
