"""The output of a DC-DC converter, seen from the network it feeds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from loomwright.circuit.laws import Law, spice_number

KNEE_A: Final = 1e-4
"""Width of the bends at no current and at the limit. [A]"""

LEAK_S: Final = 1e-6
"""Conductance left where the output neither gives nor takes. [S]"""


@dataclass(frozen=True, slots=True)
class ConverterOutput(Law):
    """A source that gives from 0 A to its limit, and takes nothing back.

    Its current counts from plus to minus through the converter, so it is mostly negative:
    the one law that is not passive, but as strictly increasing as the rest.
    """

    emf_v: float
    resistance_ohm: float
    max_current_a: float

    def current_a(self, voltage_v: float) -> float:
        """Less the current given: (EMF - V)/R, held between 0 and the limit. [A]"""
        wanted_a = (self.emf_v - voltage_v) / self.resistance_ohm
        limit_a = self.max_current_a
        if wanted_a > 0.5 * limit_a:
            given_a = limit_a + _above(-wanted_a) - _above(limit_a - wanted_a)
        else:
            given_a = _above(wanted_a) - _above(wanted_a - limit_a)
        return voltage_v * LEAK_S - given_a

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current. [S]"""
        wanted_a = (self.emf_v - voltage_v) / self.resistance_ohm
        limit_a = self.max_current_a
        if wanted_a > 0.5 * limit_a:
            share = _above_slope(limit_a - wanted_a) - _above_slope(-wanted_a)
        else:
            share = _above_slope(wanted_a) - _above_slope(wanted_a - limit_a)
        return share / self.resistance_ohm + LEAK_S

    def expression(self, voltage: str) -> str:
        """Write the law for SPICE."""
        ohm, limit = spice_number(self.resistance_ohm), spice_number(self.max_current_a)
        wanted = f"({spice_number(self.emf_v)}-{voltage})/{ohm}"
        knee = spice_number(KNEE_A**2)
        over = f"({wanted}-{limit})"
        given = f"0.5*({limit}+sqrt({wanted}*{wanted}+{knee})-sqrt({over}*{over}+{knee}))"
        return f"{voltage}*{spice_number(LEAK_S)}-{given}"


def _above(x: float) -> float:
    """The part of x above 0, bent softly."""
    root = math.hypot(x, KNEE_A)
    return 0.5 * (x + root) if x >= 0 else 0.5 * KNEE_A**2 / (root - x)


def _above_slope(x: float) -> float:
    return _above(x) / math.hypot(x, KNEE_A)
