"""Read a quantity from what a person wrote."""

from __future__ import annotations

from functools import lru_cache

from loomwright.invalid import InvalidInput
from loomwright.quantities.numbers import take_number, tidy
from loomwright.quantities.units import (
    CAPACITY,
    CELSIUS,
    CURRENT,
    DIAMETER,
    FAHRENHEIT,
    FOOT_M,
    INCH_M,
    LENGTH,
    MASS,
    POWER,
    RESISTANCE,
    SHARE,
    VOLTAGE,
    YARD_M,
    Quantity,
    unit_size,
)

MOST_KEPT = 2048
"""Texts whose numbers are kept: a rig is read again after every change of one of them."""

ABSOLUTE_ZERO_C = -273.15
IMPERIAL_LENGTHS_M = frozenset({YARD_M, FOOT_M, INCH_M})
ASK_TEMPERATURE = "write the temperature with its scale, such as 20 °C or 68 °F"
ASK_SHARE_BELOW_ONE = "can be a share or a percentage: write 100 % or 1 %"


def read_length_m(text: str, field: str = "length") -> float:
    """Return a length in metres, e.g. from ``19 ft``, ``4' 3"``, ``6-1/2 ft``, ``5,8 m``.

    Raises
    ------
    InvalidInput
        If the unit is missing or unknown, or the number is negative or can mean two things.
    """
    parts = _parts(text, field, LENGTH)
    sizes = [size for _, _, size in parts]
    joins = all(
        is_whole and larger > smaller and _same_family(larger, smaller)
        for (_, is_whole, larger), smaller in zip(parts, sizes[1:], strict=False)
    )
    if not joins:
        fix = "write the larger unit first and whole, such as 4 ft 3-1/2 in or 1 m 20 cm"
        raise InvalidInput(field, text, fix)
    return sum(number * size for number, _, size in parts)


def read_diameter_mm(text: str, field: str = "diameter") -> float:
    """Return a diameter in millimetres, e.g. from ``8 mm`` or ``5/16 in``; see `read_length_m`."""
    return _read_one(text, field, DIAMETER) / 0.001


def read_current_a(text: str, field: str = "current") -> float:
    """Return a current in amperes, e.g. from ``15 A``, ``15 amps`` or ``30 mA``.

    Raises
    ------
    InvalidInput
        If the unit is missing or unknown, or the number is negative or can mean two things.
    """
    return _read_one(text, field, CURRENT)


def read_voltage_v(text: str, field: str = "voltage") -> float:
    """Return a voltage in volts, e.g. from ``12.6 V`` or ``250 mV``; see `read_current_a`."""
    return _read_one(text, field, VOLTAGE)


def read_resistance_ohm(text: str, field: str = "resistance") -> float:
    """Return a resistance in ohms, e.g. from ``3.2 Ω`` or ``15 mohm``; see `read_current_a`."""
    return _read_one(text, field, RESISTANCE)


def read_power_w(text: str, field: str = "power") -> float:
    """Return a power in watts, e.g. from ``21 W`` or ``1.2 kW``; see `read_current_a`."""
    return _read_one(text, field, POWER)


def read_mass_kg(text: str, field: str = "mass") -> float:
    """Return a mass in kilograms, e.g. from ``3500 lb`` or ``1.6 t``; see `read_current_a`."""
    return _read_one(text, field, MASS)


def read_capacity_ah(text: str, field: str = "capacity") -> float:
    """Return a battery capacity in ampere-hours, e.g. from ``70 Ah``; see `read_current_a`."""
    return _read_one(text, field, CAPACITY)


def read_temperature_c(text: str, field: str = "temperature") -> float:
    """Return a temperature in degrees Celsius, e.g. from ``20 °C`` or ``-4 F``.

    Raises
    ------
    InvalidInput
        If the scale is missing or unknown, or the temperature is below absolute zero.
    """
    plain = tidy(text)
    is_below_zero = plain.startswith("-")
    found = _take(plain.removeprefix("-" if is_below_zero else "+").lstrip(), text, field)
    if found is None:
        raise InvalidInput(field, text, ASK_TEMPERATURE)
    number, _, unit = found
    number = -number if is_below_zero else number
    scale = unit.lower().removesuffix(".").replace("° ", "°")
    if scale not in CELSIUS | FAHRENHEIT:
        raise InvalidInput(field, text, ASK_TEMPERATURE)
    temperature_c = number if scale in CELSIUS else (number - 32) * 5 / 9
    if temperature_c < ABSOLUTE_ZERO_C:
        raise InvalidInput(field, text, "give a temperature above absolute zero, -273.15 °C")
    return temperature_c


def read_share(text: str, field: str = "share") -> float:
    """Return a share from 0 to 1, e.g. from ``22 %`` or ``0.22``.

    Raises
    ------
    InvalidInput
        If it is no number from 0 to 100 %, or a bare 1, which can be 1 % or all of it.
    """
    plain = tidy(text)
    found = _take(plain, text, field)
    if found is None or found[2]:
        share = _read_one(text, field, SHARE)
    elif found[0] < 1:
        share = found[0]
    else:
        percent = f"{found[0]:g} %"
        fix = ASK_SHARE_BELOW_ONE if found[0] == 1 else f"write {percent}, or a number below 1"
        raise InvalidInput(field, text, fix)
    if share > 1:
        raise InvalidInput(field, text, "give at most 100 %")
    return share


def _read_one(text: str, field: str, quantity: Quantity) -> float:
    parts = _parts(text, field, quantity)
    if len(parts) > 1:
        raise InvalidInput(field, text, quantity.ask)
    number, _, size = parts[0]
    return number * size


@lru_cache(maxsize=MOST_KEPT)
def _parts(text: str, field: str, quantity: Quantity) -> tuple[tuple[float, bool, float], ...]:
    """Return each number, whether it is whole, and the size of its unit."""
    rest = tidy(text)
    if rest.startswith("-"):
        raise InvalidInput(field, text, f"give 0 or more: {quantity.ask}")
    rest = rest.removeprefix("+").lstrip()
    parts: list[tuple[float, bool, float]] = []
    while rest or not parts:
        found = _take(rest, text, field)
        if found is None:
            raise InvalidInput(field, text, quantity.ask)
        number, is_whole, rest = found
        spelling, rest = _split_unit(rest)
        size = unit_size(quantity, spelling)
        if isinstance(size, str):
            raise InvalidInput(field, text, size)
        parts.append((number, is_whole, size))
    return tuple(parts)


def _take(plain: str, text: str, field: str) -> tuple[float, bool, str] | None:
    try:
        return take_number(plain)
    except ValueError as unclear:
        raise InvalidInput(field, text, str(unclear)) from None


def _split_unit(rest: str) -> tuple[str, str]:
    """Return the unit up to the next digit, without the dots and dashes around it, and the rest."""
    end = next((place for place, sign in enumerate(rest) if sign in "0123456789"), len(rest))
    if end and end < len(rest) and rest[end - 1] in ".,":
        end -= 1  # 4 ft .5 in
    unit = rest[:end].strip(" -.,").removesuffix(" and").removesuffix(" &")
    return unit, rest[end:]


def _same_family(one_m: float, other_m: float) -> bool:
    return (one_m in IMPERIAL_LENGTHS_M) == (other_m in IMPERIAL_LENGTHS_M)
