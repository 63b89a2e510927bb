"""A light source as written: ``1157 minor``, ``P21W``, ``LED``, ``LED 0.3 A constant-current``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.quantities import read_current_a
from loomwright.rig import known

Filament = Literal["single", "major", "minor"]
FILAMENTS: dict[str, Filament] = {"single": "single", "major": "major", "minor": "minor"}

LED = re.compile(
    r"LED(?:\s+(?P<current>[\d.,]+\s*m?A(?:mps?)?))?(?:\s+(?P<form>[a-z]\S*))?", re.ASCII | re.I
)
LED_FIX = 'write "LED", "LED 0.3 A" or "LED 0.3 A constant-current"'
MOST_A = 20.0


@dataclass(frozen=True, slots=True)
class BulbText:
    """A filament lamp: the key on its cap, and the filament where it was said."""

    key: str
    filament: Filament | None


@dataclass(frozen=True, slots=True)
class LedText:
    """An LED lamp: current [A] and form where they were said."""

    current_a: float | None
    form: str | None


def read_light_text(text: str) -> BulbText | LedText:
    """Return what a light source says of itself.

    Raises
    ------
    InvalidInput
        If it is no known lamp, has no such filament, or no LED anybody sells.
    """
    plain = " ".join(text.split())
    if re.match(r"led\b", plain, re.IGNORECASE):
        return _led(plain, text)
    return _bulb(plain, text)


def _led(plain: str, text: str) -> LedText:
    found = LED.fullmatch(plain)
    if found is None:
        raise InvalidInput("lamp", text, LED_FIX)
    current_a = read_current_a(found["current"]) if found["current"] else None
    if current_a is not None and not 0 < current_a <= MOST_A:
        raise InvalidInput("lamp", text, "give a current above 0 and up to 20 A")
    form = found["form"]
    if form is not None and form not in known.led_forms():
        raise InvalidInput("lamp", text, known.advice(form, known.led_forms(), "form of LED"))
    return LedText(current_a, known.LED_FORM_WORDS.get(form, form) if form else None)


def _bulb(plain: str, text: str) -> BulbText:
    from loomwright.reference.lamps import lamp

    key, _, last = plain.rpartition(" ")
    filament = FILAMENTS.get(last.lower()) if key else None
    found = lamp(key if filament else plain)
    if filament is not None and filament not in found.filaments:
        has = " or ".join(found.filaments)
        raise InvalidInput("lamp", text, f"give a filament that {found.key} has: {has}")
    return BulbText(found.key, filament)
