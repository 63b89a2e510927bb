"""Show a quantity to a person: three significant digits, and a unit that never breaks away."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from loomwright.invalid import InvalidInput
from loomwright.quantities.units import FOOT_M, INCH_M, POUND_KG, Units

NO_BREAK = "\u00a0"
MINUS = "\u2212"
UNITS_IN_TEXT = "AWG|SAE|MΩ|mΩ|Ω|ohm|km/h|mph|mm2|mm²|mm|lbf|lb|kg|ft|in|min|mV|mA|Ah|V|A|W|N|m|%"
NUMBER_AND_UNIT = re.compile(rf"(\d) ({UNITS_IN_TEXT})(?![\w²])")
SIGNIFICANT = 3
INCHES_ONLY_BELOW_IN = 36.0
WHOLE_FEET_FROM_FT = 100
DRILL_STEP_IN = Fraction(1, 64)


def unbroken(text: str) -> str:
    """Return a text with every number tied to its unit: ``run has 14 AWG``."""
    return NUMBER_AND_UNIT.sub(f"\\1{NO_BREAK}\\2", text)


def show_length(length_m: float, units: Units) -> str:
    """Return ``18.5 in``, ``4 ft 3 in`` (to the inch), ``120 ft``; or ``850 mm``, ``5.8 m``."""
    if units is Units.METRIC:
        is_short = abs(length_m) < 0.9995
        return _with_unit(length_m * 1000, "mm") if is_short else _with_unit(length_m, "m")
    inches = length_m / INCH_M
    if not abs(inches) >= INCHES_ONLY_BELOW_IN:
        return _with_unit(inches, "in")
    if abs(length_m) >= WHOLE_FEET_FROM_FT * FOOT_M:
        return _with_unit(length_m / FOOT_M, "ft")
    _check(length_m)
    feet, odd_inches = divmod(round(abs(inches)), 12)
    shown = f"{feet}{NO_BREAK}ft" + (f"{NO_BREAK}{odd_inches}{NO_BREAK}in" if odd_inches else "")
    return f"{MINUS}{shown}" if length_m < 0 else shown


def show_stretch(near_m: float, far_m: float, units: Units) -> str:
    """Return where something lies along a run: ``0 to 16 ft``, ``30 in to 6 ft``."""
    near = "0" if near_m == 0.0 else show_length(near_m, units)
    return f"{near} to {show_length(far_m, units)}"


def show_diameter(diameter_mm: float, units: Units) -> str:
    """Return ``8 mm``; or the nearest 64th of an inch, ``5/16 in``, and decimals below 1/16 in."""
    if units is Units.METRIC:
        return _with_unit(diameter_mm, "mm")
    inches = diameter_mm * 0.001 / INCH_M
    if not inches >= 4 * DRILL_STEP_IN:
        return _with_unit(inches, "in")
    _check(inches)
    whole, part = divmod(round(inches / float(DRILL_STEP_IN)) * DRILL_STEP_IN, 1)
    shown = "-".join(str(number) for number in (whole, part) if number)
    return f"{shown}{NO_BREAK}in"


def show_voltage(voltage_v: float) -> str:
    """Return ``12.6 V``, and ``85 mV`` below 0.1 V."""
    return _scaled(voltage_v, "V")


def show_current(current_a: float) -> str:
    """Return ``15 A``, and ``30 mA`` below 0.1 A."""
    return _scaled(current_a, "A")


def show_power(power_w: float) -> str:
    """Return ``21 W``, and ``85 mW`` below 0.1 W."""
    return _scaled(power_w, "W")


def show_resistance(resistance_ohm: float) -> str:
    """Return ``3.2 Ω``, ``15 mΩ`` below 1 Ω, ``4.7 kΩ`` and ``1 MΩ``."""
    size = abs(resistance_ohm)
    if size >= 999_500:
        return _with_unit(resistance_ohm / 1e6, "MΩ")
    if size >= 999.5:
        return _with_unit(resistance_ohm / 1e3, "kΩ")
    if _digits(resistance_ohm) == "0":
        return f"0{NO_BREAK}Ω"
    if size < 1:
        return _with_unit(resistance_ohm * 1e3, "mΩ")
    return _with_unit(resistance_ohm, "Ω")


def show_mass(mass_kg: float, units: Units) -> str:
    """Return ``1600 kg`` or ``3500 lb``."""
    if units is Units.METRIC:
        return _with_unit(mass_kg, "kg")
    return _with_unit(mass_kg / POUND_KG, "lb")


def show_capacity(capacity_ah: float) -> str:
    """Return ``70 Ah``."""
    return _with_unit(capacity_ah, "Ah")


def show_share(share: float) -> str:
    """Return ``22 %`` for 0.22."""
    return _with_unit(share * 100, "%")


def show_temperature(temperature_c: float, units: Units) -> str:
    """Return ``20 °C`` or ``68 °F``, to a tenth of a degree below 100, to a degree above."""
    shown_in = temperature_c if units is Units.METRIC else temperature_c * 9 / 5 + 32
    _check(shown_in)
    in_steps = round(shown_in, 1) if abs(shown_in) < 100 else shown_in
    return _with_unit(in_steps, "°C" if units is Units.METRIC else "°F")


def _scaled(value: float, unit: str) -> str:
    is_small = abs(value) < 0.1 and _digits(value * 1000) != "0"
    return _with_unit(value * 1000, f"m{unit}") if is_small else _with_unit(value, unit)


def _with_unit(value: float, unit: str) -> str:
    return f"{_digits(value)}{NO_BREAK}{unit}"


def _digits(value: float) -> str:
    """Return at least three significant digits, whole from 100 on, no idle zeros, no exponent.

    Three decimals at most: what is smaller than that is nothing in the unit shown.
    """
    _check(value)
    if value == 0:
        return "0"
    decimals = SIGNIFICANT - 1 - math.floor(math.log10(abs(value)))
    shown = f"{value:.{min(max(decimals, 0), SIGNIFICANT)}f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return "0" if shown in ("-0", "") else shown.replace("-", MINUS)


def _check(value: float) -> None:
    if not math.isfinite(value):
        raise InvalidInput("value", value, "give a finite number to show")
