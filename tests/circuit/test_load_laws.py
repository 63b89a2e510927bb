"""Laws of loads: what each must obey, published measurements, and their SPICE text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.circuit.networks import LAWS
from tests.spice import run_decks

from loomwright.circuit import Diode, Filament, Law, LedCurrent, LedString, Ohmic, Pulsed
from loomwright.circuit.converter import ConverterOutput

laws = st.sampled_from(LAWS)
voltages_v = st.floats(-60.0, 60.0)


@given(laws, voltages_v, st.floats(1e-4, 20.0))
def test_current_increases_strictly(law: Law, voltage_v: float, more_v: float) -> None:
    assert law.current_a(voltage_v + more_v) > law.current_a(voltage_v)
    assert law.slope_s(voltage_v) > 0


@given(laws)
def test_no_current_at_no_voltage(law: Law) -> None:
    assert abs(law.current_a(0.0)) <= 1e-18


@given(laws, voltages_v.filter(lambda v: abs(v) > 1e-3))
def test_slope_is_the_derivative(law: Law, voltage_v: float) -> None:
    """Against a central difference of the fourth order."""
    h = 2e-5
    f = law.current_a
    rise = 8.0 * (f(voltage_v + h) - f(voltage_v - h)) - f(voltage_v + 2 * h) + f(voltage_v - 2 * h)

    assert law.slope_s(voltage_v) == pytest.approx(rise / (12.0 * h), rel=1e-4, abs=1e-8)


@given(st.floats(0.0, 60.0), st.floats(9.0, 15.0))
def test_a_filament_does_not_mind_polarity(voltage_v: float, k: float) -> None:
    lamp = Filament(12.8, 2.1, k)

    assert lamp.current_a(-voltage_v) == -lamp.current_a(voltage_v)


@pytest.mark.parametrize("law", LAWS, ids=lambda law: type(law).__name__)
def test_a_law_stays_finite_far_outside_of_its_range(law: Law) -> None:
    """A step of the solver may try any voltage."""
    for voltage_v in (-1e7, -1e3, 1e3, 1e7):
        assert abs(law.current_a(voltage_v)) < 1e10
        assert 0 < law.slope_s(voltage_v) < 1e3


@pytest.mark.parametrize("k", [9.0, 10.0, 12.0, 13.0, 14.0, 15.0])
def test_a_filament_passes_its_test_point_and_its_cold_resistance(k: float) -> None:
    """12.8 V and 2.1 A; cold, the resistance is k times less than 12.8/2.1 ohm."""
    lamp = Filament(12.8, 2.1, k)

    assert lamp.current_a(12.8) == pytest.approx(2.1, rel=1e-12)
    assert 1.0 / lamp.slope_s(0.0) == pytest.approx(12.8 / 2.1 / k, rel=1e-12)


@pytest.mark.parametrize(
    ("voltage_v", "current_a"),
    [
        (0.262, 0.130),
        (0.449, 0.153),
        (1.016, 0.198),
        (1.527, 0.236),
        (2.012, 0.270),
        (2.464, 0.298),
        (2.948, 0.325),
    ],
)
def test_filament_against_a_measured_bulb(voltage_v: float, current_a: float) -> None:
    """A bulb of 2.5 V 0.3 A, measured from a tenth of its voltage to overvoltage.

    Source: New Physics: Sae Mulli 2023;73:127, Table 2. The model knows only 2.5 V, 0.3 A.
    """
    assert Filament(2.5, 0.3).current_a(voltage_v) == pytest.approx(current_a, rel=0.035)


@pytest.mark.parametrize(("test_w", "rated_w"), [(25.0, 21.0), (6.0, 5.0)])
def test_filament_joins_test_and_rated_power(test_w: float, rated_w: float) -> None:
    """P21/5W takes 25 W and 6 W at 13.5 V, each within 6 %, and is rated 21 W and 5 W at 12 V.

    Source: Directive 97/24/EC, appendix 15, sheet P21/5W.
    """
    power_w = 12.0 * Filament(13.5, test_w / 13.5).current_a(12.0)

    assert power_w == pytest.approx(rated_w, rel=0.06)


@pytest.mark.parametrize("share", [0.7, 0.8, 0.9, 1.1, 1.2])
def test_filament_near_rated_voltage_follows_the_handbook_power(share: float) -> None:
    """Current goes with the 0.55th power of the voltage near rated voltage.

    Source: common practice (lighting handbooks), from memory.
    """
    assert Filament(12.8, 2.1).current_a(12.8 * share) == pytest.approx(2.1 * share**0.55, rel=0.01)


@pytest.mark.parametrize(
    ("volts", "ohm", "magnets", "chart_a"),
    [
        (12.0, 3.2, 2, 7.5),
        (12.0, 3.2, 4, 15.0),
        (12.0, 3.2, 6, 22.6),
        (13.0, 3.2, 2, 8.2),
        (13.0, 3.2, 4, 16.3),
        (12.0, 3.8, 2, 6.3),
        (13.0, 3.8, 4, 13.7),
        (13.0, 3.8, 6, 20.6),
    ],
)
def test_brake_magnets_are_plain_resistances(
    volts: float, ohm: float, magnets: int, chart_a: float
) -> None:
    """Amps of 2, 4 and 6 magnets of 3.2 and 3.8 ohm, from a chart for the trade.

    Source: brake magnet test figures by a retailer of brakes, rounded to 0.1 A.
    """
    assert magnets * Ohmic(ohm).current_a(volts) == pytest.approx(chart_a, abs=0.11)


def test_a_pulsed_filament_heats_by_the_rms_voltage() -> None:
    """Definition: mean power in the pulses = power at the rms voltage, V sqrt(d).

    22 % of 13.5 V is 6.33 V rms; hand: sqrt(0.22) = 0.46904.
    """
    lamp = Filament(13.5, 1.8519)
    pulsed = Pulsed(lamp, 0.22, "heats")
    rms_v = 13.5 * 0.46904158

    mean_w = 0.22 * 13.5 * pulsed.current_a(13.5)
    assert mean_w == pytest.approx(rms_v * lamp.current_a(rms_v), rel=1e-6)


def test_a_pulsed_magnet_keeps_its_mean_current() -> None:
    """Hand: 12 V at 50 % through a freewheeling magnet of 3.2 ohm is 6 V / 3.2 ohm."""
    pulsed = Pulsed(Ohmic(3.2), 0.5, "freewheels")

    assert pulsed.current_a(12.0) == pytest.approx(1.875)


def test_a_pulsed_led_follows_the_pulse() -> None:
    led = LedString(7.0, 19.3)

    assert Pulsed(led, 0.2, "follows").current_a(12.8) == led.current_a(12.8)


def test_a_regulated_lamp_holds_its_current() -> None:
    """Hand: 7.0 V + 5.6 ohm * 0.25 A = 8.4 V; far above, 0.25 A whatever the voltage."""
    lamp = LedCurrent(7.0, 5.6, 0.25)

    assert lamp.current_a(12.0) == pytest.approx(0.25, rel=0.001)
    assert lamp.current_a(16.0) == pytest.approx(0.25, rel=0.001)
    assert lamp.current_a(5.0) < 0.001


def test_a_string_draws_its_design_current() -> None:
    """Hand: (12.8 - 7.0) V / 19.3 ohm = 0.3005 A, and 13 uA of leakage."""
    assert LedString(7.0, 19.3).current_a(12.8) == pytest.approx(5.8 / 19.3 + 12.8e-6, rel=1e-9)


def test_a_diode_conducts_one_way() -> None:
    """Hand: (1.6 - 0.6) V / 0.05 ohm = 20 A forward; in reverse microamps."""
    diode = Diode(0.6, 0.05)

    assert diode.current_a(1.6) == pytest.approx(20.0, rel=1e-4)
    assert -5e-5 < diode.current_a(-12.0) < 0


def test_the_spice_text_of_every_law_says_the_same() -> None:
    """Each law at many voltages, each current through 1 ohm, read by ngspice."""
    laws = [*LAWS, ConverterOutput(13.8, 0.02, 15.0)]
    volts = [-14.0, -1.0, -0.01, 0.0, 0.001, 0.05, 0.7, 5.0, 7.0, 8.4, 12.0, 12.8, 16.0, 28.0]
    lines = ["* laws", ".options reltol=1e-7"]
    for n, volt in enumerate(volts):
        lines.append(f"V{n} v{n} 0 DC {volt}")
        for m, law in enumerate(laws):
            lines += [f"B{n}_{m} 0 i{n}_{m} I={law.spice(f'v{n}', '0')}", f"R{n}_{m} i{n}_{m} 0 1"]
    (read,) = run_decks(["\n".join([*lines, ".end", ""])])

    for n, volt in enumerate(volts):
        for m, law in enumerate(laws):
            assert read[f"i{n}_{m}"] == pytest.approx(law.current_a(volt), rel=1e-9, abs=1e-12)
