"""Quantities are read as people write them, and refused when they could mean two things."""

from __future__ import annotations

import contextlib
from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.invalid import InvalidInput
from loomwright.quantities import (
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
)

Reader = Callable[[str, str], float]
PINT: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "length_m"),
    [
        ("1 ft", 0.3048),
        ("1 in", 0.0254),
        ("1 yd", 0.9144),
        ("19 ft", 19 * 0.3048),
        ("19 FT.", 19 * 0.3048),
        ("12-foot", 12 * 0.3048),
        ("4 ft 3 in", 51 * 0.0254),
        ("4' 3\"", 51 * 0.0254),
        ("4\u2032\u00a03\u2033", 51 * 0.0254),
        ("4'-3 1/2\"", 51.5 * 0.0254),
        ("4 feet and 3 inches", 51 * 0.0254),
        ("6-1/2 ft", 6.5 * 0.3048),
        ("6\u00bd ft", 6.5 * 0.3048),
        ("5/16 in", 0.0254 * 5 / 16),
        ("5.8 m", 5.8),
        ("5,8 m", 5.8),
        ("5.8\u202fm", 5.8),
        ("1 m 20 cm", 1.2),
        ("580 cm", 5.8),
        ("5800MM", 5.8),
        ("1 200 mm", 1.2),
        ("1.200,5 mm", 1.2005),
        ("1,200.5 mm", 1.2005),
        ("0,125 m", 0.125),
        (".5 m", 0.5),
    ],
)
def test_a_length_is_read_in_every_common_spelling(text: str, length_m: float) -> None:
    """International yard and pound agreement 1959: 1 yd = 0.9144 m, so 1 ft = 0.3048 m exactly."""
    assert read_length_m(text) == pytest.approx(length_m, rel=1e-12)


def test_a_comma_groups_thousands_before_a_customary_unit() -> None:
    """Common practice where feet and pounds are used: the comma never marks decimals."""
    assert read_mass_kg("9,800 lb") == read_mass_kg("9800 lb")
    assert read_length_m("1,200 ft") == read_length_m("1200 ft")


@pytest.mark.parametrize("text", ["1,200 m", "3,500 cm", "12,345 mm"])
def test_a_comma_that_can_mean_two_things_is_refused_with_both_spellings(text: str) -> None:
    with pytest.raises(InvalidInput) as refused:
        read_length_m(text, "run.length")

    assert text.replace(",", "") in refused.value.fix
    assert text.replace(",", ".") in refused.value.fix
    assert refused.value.field == "run.length"
    assert refused.value.value == text


@pytest.mark.parametrize(
    ("read", "units"),
    [
        (read_length_m, ("ft", "in", "m", "cm", "mm")),
        (read_diameter_mm, ("mm", "in")),
        (read_current_a, ("A", "mA")),
        (read_voltage_v, ("V", "mV")),
        (read_resistance_ohm, ("ohm", "mΩ")),
        (read_power_w, ("W", "kW")),
        (read_mass_kg, ("lb", "kg", "t")),
        (read_capacity_ah, ("Ah",)),
        (read_temperature_c, ("°C", "°F")),
        (read_share, ("%",)),
    ],
)
@pytest.mark.parametrize("text", ["12", "1,5", "", "  ", "nan", "inf", "twelve", "12 parsecs"])
def test_a_value_without_a_known_unit_is_refused_naming_the_units(
    read: Reader, units: tuple[str, ...], text: str
) -> None:
    with pytest.raises(InvalidInput) as refused:
        read(text, "field")

    assert all(unit in refused.value.fix for unit in units)


@pytest.mark.parametrize(
    "text",
    [
        *("-3 m", "nan ft", "inf m", "1/0 ft", "4 ft 3", "3 in 4 ft", "4.5 ft 3 in", "1 m 3 in"),
        *("1.2.3 m", "1e400 m", f"{'9' * 400} m", "4 ft 4 ft", "ft", "1,23,4 m", "12 V"),
    ],
)
def test_an_unusable_length_is_refused(text: str) -> None:
    with pytest.raises(InvalidInput, match=r"^length is "):
        read_length_m(text)


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (read_current_a, "15 A", 15.0),
        (read_current_a, "15amps", 15.0),
        (read_current_a, "30 mA", 0.030),
        (read_voltage_v, "12.6 V", 12.6),
        (read_voltage_v, "12,6 volts DC", 12.6),
        (read_voltage_v, "250 mV", 0.250),
        (read_resistance_ohm, "3.2 \u2126", 3.2),
        (read_resistance_ohm, "3.2 Ω", 3.2),
        (read_resistance_ohm, "3.2 OHMS", 3.2),
        (read_resistance_ohm, "15 mΩ", 0.015),
        (read_resistance_ohm, "15 milliohm", 0.015),
        (read_resistance_ohm, "15 mohm", 0.015),
        (read_resistance_ohm, "15 MΩ", 15e6),
        (read_resistance_ohm, "15 Mohm", 15e6),
        (read_power_w, "21 w", 21.0),
        (read_power_w, "1.2 kW", 1200.0),
        (read_mass_kg, "1 lb", 0.45359237),
        (read_mass_kg, "1600 KGS", 1600.0),
        (read_mass_kg, "1.6 t", 1600.0),
        (read_capacity_ah, "70 Ah", 70.0),
        (read_capacity_ah, "70 amp hours", 70.0),
        (read_diameter_mm, "8 mm", 8.0),
        (read_diameter_mm, "5/16 in", 7.9375),
        (read_diameter_mm, '1-1/4"', 31.75),
        (read_share, "22 %", 0.22),
        (read_share, "22percent", 0.22),
        (read_share, "0,22", 0.22),
        (read_share, "100 %", 1.0),
    ],
)
def test_each_quantity_is_read_in_its_own_units(read: Reader, text: str, value: float) -> None:
    """1 lb = 0.453 592 37 kg exactly (1959 agreement); the rest are SI prefixes."""
    assert read(text, "field") == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "temperature_c"),
    [
        ("32 °F", 0.0),
        ("212 F", 100.0),
        ("-40 °F", -40.0),
        ("\u221240 C", -40.0),
        ("20 deg C", 20.0),
        ("20° C", 20.0),
        ("68 degrees Fahrenheit", 20.0),
    ],
)
def test_a_temperature_is_read_on_both_scales(text: str, temperature_c: float) -> None:
    """Freezing and boiling points of water, and the point where both scales agree."""
    assert read_temperature_c(text) == pytest.approx(temperature_c)


@pytest.mark.parametrize("text", ["-300 °C", "-500 F", "20", "20 K", "--4 F"])
def test_an_impossible_or_scaleless_temperature_is_refused(text: str) -> None:
    with pytest.raises(InvalidInput):
        read_temperature_c(text)


@pytest.mark.parametrize(("text", "said"), [("1", "1 %"), ("22", "22 %"), ("120 %", "100 %")])
def test_a_share_that_is_not_one_says_how_to_write_it(text: str, said: str) -> None:
    with pytest.raises(InvalidInput) as refused:
        read_share(text)

    assert said in refused.value.fix


def test_case_decides_only_where_it_must() -> None:
    with pytest.raises(InvalidInput, match="write milliohm or megohm"):
        read_resistance_ohm("15 MOHM")


def test_a_ton_is_refused_because_it_has_three_sizes() -> None:
    with pytest.raises(InvalidInput, match="three sizes"):
        read_mass_kg("2 Tons")


@given(number=st.floats(0.001, 9999).map(lambda value: float(f"{value:.6g}")))
@pytest.mark.parametrize(
    ("read", "unit", "oracle_unit", "target"),
    [
        (read_length_m, "ft", "foot", "meter"),
        (read_length_m, "in", "inch", "meter"),
        (read_length_m, "yd", "yard", "meter"),
        (read_length_m, "cm", "centimeter", "meter"),
        (read_mass_kg, "lbs", "pound", "kilogram"),
        (read_mass_kg, "oz", "ounce", "kilogram"),
        (read_mass_kg, "t", "metric_ton", "kilogram"),
        (read_resistance_ohm, "kΩ", "kiloohm", "ohm"),
        (read_capacity_ah, "mAh", "milliampere_hour", "ampere_hour"),
        (read_diameter_mm, "in", "inch", "millimeter"),
    ],
)
def test_conversions_agree_with_an_independent_units_library(
    read: Reader, unit: str, oracle_unit: str, target: str, number: float
) -> None:
    """Checked against pint, which carries its own table of definitions."""
    expected = PINT.Quantity(number, oracle_unit).to(target).magnitude

    assert read(f"{number:.10f} {unit}", "field") == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(text=st.text(max_size=30))
@pytest.mark.parametrize("read", [read_length_m, read_resistance_ohm, read_share])
def test_any_text_is_read_or_refused_and_nothing_else(read: Reader, text: str) -> None:
    with contextlib.suppress(InvalidInput):
        assert read(text, "field") >= 0
