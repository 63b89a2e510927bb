"""Testers: what each can see, what it puts on the pin, and how far its reading may be off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput, raise_all
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

Sight = Literal["words", "brightness", "pulses", "volts", "drop", "amps", "brakes", "messages"]
"""What a tester can tell: lit or not; how bright; short pulses; volts; the drop on the return;
amps; whether a brake pulls; what the controller says."""


@dataclass(frozen=True, slots=True)
class Tester:
    """A tester.

    Attributes
    ----------
    key, title : str
        Its name in observations, and in words.
    sees : tuple of str
        What it can tell; see `Sight`.
    plug : {"in", "out", "both"}
        Whether the trailer is plugged in while it is used.
    loads : {"none", "one pin", "every pin", "trailer"}
        What draws current while it reads.
    lamp_w : float or None
        Bulb it puts on a lamp pin. [W]
    led_a : float or None
        Current of its LED at 12.8 V. [A]
    brake_ohm, charge_a : float or None
        What it puts on the brake pin [ohm] and on a charge pin [A].
    wakes : bool
        Whether a module that looks for a load finds one.
    share_off, volts_off, amps_off : float or None
        How far a reading may be off: a share of it [%], and besides that. [V, A]
    note : str
        What to know of it.
    """

    key: str
    title: str
    sees: tuple[Sight, ...]
    plug: Literal["in", "out", "both"]
    loads: Literal["none", "one pin", "every pin", "trailer"]
    lamp_w: float | None
    led_a: float | None
    brake_ohm: float | None
    charge_a: float | None
    wakes: bool
    share_off: float | None
    volts_off: float | None
    amps_off: float | None
    note: str
    source: str
    standing: str

    def off_by(self, reading: float, unit: Literal["V", "A"]) -> float:
        """Return how far a reading may be off. [V, A]"""
        beside = self.volts_off if unit == "V" else self.amps_off
        return abs(reading) * (self.share_off or 0.0) / 100.0 + (beside or 0.0)


def testers() -> tuple[Tester, ...]:
    """Return every tester of the table."""
    return read_rows(PACKAGE, "testers", Tester)


def find_tester(key: str, field: str = "tester") -> Tester:
    """Return a tester by its key, such as ``meter`` or ``test-lamp``.

    Raises
    ------
    InvalidInput
        If the table has no such tester; names those it has.
    """
    wanted = key.strip().casefold().replace(" ", "-").replace("_", "-")
    for row in testers():
        if row.key == wanted:
            return row
    known = ", ".join(row.key for row in testers())
    raise InvalidInput(field, key, f"use one of {known}, or several joined by +")


def find_testers(text: str, field: str = "tester") -> tuple[Tester, ...]:
    """Return the testers of a list joined by plus signs: ``trailer+meter+clamp``.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for each that the table does not have.
    """
    found: dict[str, Tester] = {}
    problems = []
    for each in text.split("+"):
        try:
            row = find_tester(each, field)
        except InvalidInput as problem:
            problems.append(problem)
        else:
            found[row.key] = row
    raise_all(problems, field)
    return tuple(found.values())
