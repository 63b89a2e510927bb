"""LED lamps: current by function, and the electrical forms they come in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

LedLaw = Literal["string", "linear", "switch-mode"]


@dataclass(frozen=True, slots=True)
class LedCurrents:
    """Current of an LED lamp by what it does: low, typical (None: not known) and high. [A]"""

    key: str
    functions: tuple[str, ...]
    low_a: float
    typical_a: float | None
    high_a: float
    at_v: float
    note: str | None
    source: str
    standing: str

    @property
    def usual_a(self) -> float:
        """The typical current, or the middle of the range where none is known. [A]"""
        return (self.low_a + self.high_a) / 2 if self.typical_a is None else self.typical_a


@dataclass(frozen=True, slots=True)
class LedForm:
    """An electrical form of LED lamp and the parameters of its law.

    ``string``: I = (knee / series) ln(1 + exp((V - threshold) / knee)).
    ``linear``: y = knee ln(1 + exp((V - threshold) / knee)) / (series set);
    I = set y / (1 + y^sharpness)^(1 / sharpness).
    ``switch-mode``: I = power / V, at most `max_a`, between `off_below_v` and `on_above_v` as a
    state with hysteresis.
    A parameter its law does not use is None. Below the threshold only `leak_ohm` conducts.
    """

    key: str
    law: LedLaw
    title: str
    threshold_v: float | None
    series_ohm: float | None
    knee_v: float | None
    set_a: float | None
    sharpness: float | None
    power_w: float | None
    off_below_v: float | None
    on_above_v: float | None
    max_a: float | None
    lit_from_v: float
    range_low_v: float
    range_high_v: float
    leak_ohm: float
    built_from: str
    source: str
    standing: str


def led_currents() -> tuple[LedCurrents, ...]:
    """Return every row of LED currents."""
    return read_rows(PACKAGE, "led_currents", LedCurrents)


def led(function: str) -> LedCurrents:
    """Return the currents of an LED lamp by function id or by the key of its row.

    Raises
    ------
    InvalidInput
        If the table has neither; names the keys it has.

    References
    ----------
    led-lamp-catalogues, from memory; led-rear-lamp-note.
    """
    for row in led_currents():
        if function == row.key or function in row.functions:
            return row
    known = ", ".join(row.key for row in led_currents())
    raise InvalidInput("led", function, f"use a lamp function or one of {known}")


def led_forms() -> tuple[LedForm, ...]:
    """Return the electrical forms."""
    return read_rows(PACKAGE, "led_forms", LedForm)


def led_form(key: str) -> LedForm:
    """Return an electrical form by its key, such as ``string-3`` or ``switch-mode``.

    Raises
    ------
    InvalidInput
        If the table has no such form; names those it has.
    """
    for row in led_forms():
        if row.key == key:
            return row
    raise InvalidInput("led_form", key, f"use one of {', '.join(row.key for row in led_forms())}")
