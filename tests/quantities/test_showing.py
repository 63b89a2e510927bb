"""What is shown reads back as what was meant, within the digits shown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.invalid import InvalidInput
from loomwright.quantities import (
    Units,
    read_capacity_ah,
    read_current_a,
    read_diameter_mm,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_resistance_ohm,
    read_share,
    read_temperature_c,
    read_voltage_v,
    show_capacity,
    show_current,
    show_diameter,
    show_length,
    show_mass,
    show_power,
    show_resistance,
    show_share,
    show_stretch,
    show_temperature,
    show_voltage,
    unbroken,
)

THREE_DIGITS = 0.005  # half a unit in the third significant digit, at worst: 1.005 shown as 1
UNITS = st.sampled_from(list(Units))


@given(length_m=st.floats(0.001, 300), units=UNITS)
def test_a_shown_length_reads_back(length_m: float, units: Units) -> None:
    """In US units feet come with whole inches from 3 ft on: half an inch in 3 ft is 1.4 %."""
    shown = show_length(length_m, units)

    assert read_length_m(shown) == pytest.approx(length_m, rel=0.0145, abs=0.00002)


@given(diameter_mm=st.floats(0.2, 200), units=UNITS)
def test_a_shown_diameter_reads_back(diameter_mm: float, units: Units) -> None:
    """Inch drill sizes go by 64ths: half of one is 0.198 mm."""
    shown = show_diameter(diameter_mm, units)

    assert read_diameter_mm(shown) == pytest.approx(diameter_mm, rel=THREE_DIGITS, abs=0.1985)


@given(value=st.floats(0.001, 5000))
def test_shown_electrical_values_read_back(value: float) -> None:
    assert read_voltage_v(show_voltage(value)) == pytest.approx(value, rel=THREE_DIGITS)
    assert read_current_a(show_current(value)) == pytest.approx(value, rel=THREE_DIGITS)
    assert read_power_w(show_power(value)) == pytest.approx(value, rel=THREE_DIGITS)
    assert read_resistance_ohm(show_resistance(value)) == pytest.approx(value, rel=THREE_DIGITS)
    assert read_capacity_ah(show_capacity(value)) == pytest.approx(
        value, rel=THREE_DIGITS, abs=0.0005
    )


@given(mass_kg=st.floats(1, 50000), units=UNITS)
def test_a_shown_mass_reads_back(mass_kg: float, units: Units) -> None:
    assert read_mass_kg(show_mass(mass_kg, units)) == pytest.approx(mass_kg, rel=THREE_DIGITS)


@given(share=st.floats(0, 1))
def test_a_shown_share_reads_back(share: float) -> None:
    assert read_share(show_share(share)) == pytest.approx(share, rel=THREE_DIGITS, abs=5e-6)


@given(temperature_c=st.floats(-60, 180), units=UNITS)
def test_a_shown_temperature_reads_back(temperature_c: float, units: Units) -> None:
    """From 100 on a whole degree is shown, so half a degree is lost."""
    shown = show_temperature(temperature_c, units)

    assert read_temperature_c(shown) == pytest.approx(temperature_c, abs=0.51)


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (show_length(19 * 0.3048, Units.US), "19 ft"),
        (show_length(51 * 0.0254, Units.US), "4 ft 3 in"),
        (show_length(18.5 * 0.0254, Units.US), "18.5 in"),
        (show_length(5.8, Units.METRIC), "5.8 m"),
        (show_length(0.85, Units.METRIC), "850 mm"),
        (show_diameter(7.9375, Units.US), "5/16 in"),
        (show_diameter(31.75, Units.US), "1-1/4 in"),
        (show_diameter(8, Units.METRIC), "8 mm"),
        (show_voltage(12.6), "12.6 V"),
        (show_voltage(0.085), "85 mV"),
        (show_voltage(-0.5), "\u22120.5 V"),
        (show_current(15), "15 A"),
        (show_current(1e-12), "0 A"),
        (show_resistance(0.015), "15 mΩ"),
        (show_resistance(3.2), "3.2 Ω"),
        (show_resistance(4700), "4.7 kΩ"),
        (show_power(21), "21 W"),
        (show_mass(1600, Units.METRIC), "1600 kg"),
        (show_mass(3500 * 0.45359237, Units.US), "3500 lb"),
        (show_share(0.22), "22 %"),
        (show_temperature(20, Units.US), "68 °F"),
    ],
)
def test_values_are_short_and_never_break_from_their_unit(shown: str, expected: str) -> None:
    """Conversions by definition: 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, 20 °C = 68 °F."""
    assert shown == expected.replace(" ", "\u00a0")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_value_that_is_no_number_is_never_shown(value: float) -> None:
    for show in (show_voltage, show_current, show_power, show_resistance, show_share):
        with pytest.raises(InvalidInput):
            show(value)
    for show_in in (show_length, show_diameter, show_mass, show_temperature):
        for units in Units:
            with pytest.raises(InvalidInput):
                show_in(value, units)


def test_a_number_in_a_sentence_is_tied_to_its_unit_and_to_nothing_else() -> None:
    said = unbroken("12-10 AWG, 0.75 mm2 and 30 %; of 4 magnets 3 made it 2 miles")

    assert said == "12-10~AWG, 0.75~mm2 and 30~%; of 4 magnets 3 made it 2 miles".replace(
        "~", "\u00a0"
    )


def test_a_stretch_that_begins_at_nothing_has_one_unit() -> None:
    assert show_stretch(0.0, 19 * 0.3048, Units.US) == "0 to 19\u00a0ft"
    assert show_stretch(0.5, 5.8, Units.METRIC) == "500\u00a0mm to 5.8\u00a0m"
