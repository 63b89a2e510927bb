"""Units as the trade spells them, and what each is in SI.

References
----------
International yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.453 592 37 kg, both exact.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

FOOT_M = 0.3048
INCH_M = 0.0254
YARD_M = 0.9144
POUND_KG = 0.45359237
OUNCE_KG = POUND_KG / 16
TONNE_KG = 1000.0


class Units(StrEnum):
    """The units a person wants to read."""

    US = "us"
    METRIC = "metric"


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """A kind of value: its units by every spelling taken, and how to ask for one.

    Each is made once, below, and is equal to itself alone.

    Parameters
    ----------
    spellings : mapping of str to float
        Spelling to size of the unit in the quantity's own unit.
    ask : str
        Examples for a person who left out the unit.
    unclear : mapping of str to str
        Spellings that could be several units, with what to write instead.
    """

    spellings: Mapping[str, float]
    ask: str
    unclear: Mapping[str, str]


def _quantity(
    ask: str, unclear: Mapping[str, str] | None = None, **unit_spellings: tuple[float, str]
) -> Quantity:
    spellings = {
        spelling: size
        for size, spelled in unit_spellings.values()
        for spelling in spelled.split(", ")
    }
    return Quantity(spellings, ask, unclear or {})


YARD = (YARD_M, "yd, yds, yard, yards")
FOOT = (FOOT_M, "ft, foot, feet, '")
INCH = (INCH_M, "in, ins, inch, inches, \", ''")
METRE = (1.0, "m, metre, metres, meter, meters, mtr, mtrs")
CENTIMETRE = (0.01, "cm, centimetre, centimetres, centimeter, centimeters")
MILLIMETRE = (0.001, "mm, millimetre, millimetres, millimeter, millimeters")

LENGTH = _quantity(
    "write the length with its unit, such as 19 ft, 4 ft 3 in, 5.8 m, 580 cm or 5800 mm",
    yard=YARD,
    foot=FOOT,
    inch=INCH,
    metre=METRE,
    centimetre=CENTIMETRE,
    millimetre=MILLIMETRE,
)
DIAMETER = _quantity(
    "write the diameter with its unit, such as 8 mm or 5/16 in",
    inch=INCH,
    centimetre=CENTIMETRE,
    millimetre=MILLIMETRE,
)
CURRENT = _quantity(
    "write the current with its unit, such as 15 A or 30 mA",
    ampere=(1.0, "A, amp, amps, ampere, amperes, ADC, A DC"),
    milliampere=(1e-3, "mA, milliamp, milliamps, milliampere, milliamperes"),
)
VOLTAGE = _quantity(
    "write the voltage with its unit, such as 12.6 V or 250 mV",
    volt=(1.0, "V, volt, volts, VDC, V DC, volts DC"),
    millivolt=(1e-3, "mV, millivolt, millivolts"),
)
RESISTANCE = _quantity(
    "write the resistance with its unit, such as 3.2 ohm, 3.2 Ω or 15 mΩ",
    {"MOHM": "write milliohm or megohm", "MOHMS": "write milliohms or megohms"},
    ohm=(1.0, "ohm, ohms, Ω"),
    milliohm=(1e-3, "mohm, mohms, mΩ, milliohm, milliohms"),
    microohm=(1e-6, "uohm, uohms, µΩ, μΩ, uΩ, microohm, microohms"),
    kiloohm=(1e3, "kohm, kohms, kΩ, kilohm, kilohms"),
    megohm=(1e6, "Mohm, Mohms, MΩ, megohm, megohms"),
)
POWER = _quantity(
    "write the power with its unit, such as 21 W or 1.2 kW",
    watt=(1.0, "W, watt, watts"),
    kilowatt=(1e3, "kW, kilowatt, kilowatts"),
    milliwatt=(1e-3, "mW, milliwatt, milliwatts"),
)
TON = "a ton has three sizes: write lb, kg or t (1 t = 1000 kg; the short ton is 2000 lb)"
MASS = _quantity(
    "write the mass with its unit, such as 3500 lb, 1600 kg or 1.6 t",
    {"ton": TON, "tons": TON},
    pound=(POUND_KG, "lb, lbs, pound, pounds, lbm"),
    ounce=(OUNCE_KG, "oz, ounce, ounces"),
    kilogram=(1.0, "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes"),
    gram=(1e-3, "g, gram, grams, gramme, grammes"),
    tonne=(TONNE_KG, "t, tonne, tonnes"),
)
CAPACITY = _quantity(
    "write the capacity with its unit, such as 70 Ah",
    ampere_hour=(1.0, "Ah, A h, A·h, amp hour, amp hours, amp-hour, amp-hours, ampere-hours"),
    milliampere_hour=(1e-3, "mAh, mA h, mA·h"),
)
SHARE = _quantity(
    "write a share such as 22 % or 0.22",
    percent=(0.01, "%, percent, per cent, pct"),
)
CELSIUS = frozenset({"°c", "c", "deg c", "degc", "degrees c", "celsius", "degrees celsius", "℃"})
FAHRENHEIT = frozenset(
    {"°f", "f", "deg f", "degf", "degrees f", "fahrenheit", "degrees fahrenheit", "℉"}
)


def unit_size(quantity: Quantity, spelling: str) -> float | str:
    """Return the size of a unit, or what is wrong with the spelling.

    Upper and lower case count only where they must: mΩ is a thousandth, MΩ a million.
    """
    if spelling in quantity.unclear:
        return quantity.unclear[spelling]
    if spelling in quantity.spellings:
        return quantity.spellings[spelling]
    folded = spelling.lower()
    alike = {size for known, size in quantity.spellings.items() if known.lower() == folded}
    if len(alike) == 1:
        return alike.pop()
    unclear = {known.lower(): advice for known, advice in quantity.unclear.items()}
    return unclear.get(folded, quantity.ask)
