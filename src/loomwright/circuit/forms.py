"""The laws of the loads on arrays: current, slope and bend at once, for loads times cases.

Each family takes the voltages and its parameters, and gives

* the current I [A],
* the slope dI/dV [S],
* the bend: no less than half of |d2I/dV2| anywhere within `REACH_V` of the voltage [A/V2]. A
  tangent taken here is off by no more than bend x step^2 after a step that short.

The formulas are those of the laws, arranged to share what they have in common; the functions
of NumPy they call are the only ones another executor must supply for its own numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING, Final, TypeAlias

import numpy as np
from numpy import abs as size
from numpy import exp, log, log1p, maximum, sqrt, where

from loomwright.circuit.converter import KNEE_A, LEAK_S, ConverterOutput
from loomwright.circuit.laws import Filament, Law, Ohmic, Pulsed, filament_constants
from loomwright.circuit.thresholds import LedCurrent, LedString, OneWay

if TYPE_CHECKING:
    from numpy.typing import NDArray

Numbers: TypeAlias = "NDArray[np.float64]"

REACH_V: Final = 3e-4
"""A tangent is trusted for a last step no longer than this. [V]"""

TINY: Final = 1e-300
_LEAK: Final = LEAK_S
_KNEE: Final = KNEE_A


def filament(v: Numbers, p: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """Filament: G0 V / (cold + rise w bend(w)), with w = u^m, u = sqrt(x^2 + e^2) - e."""
    per_v, hot_s, e, m, s, a, cold, rise = p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7]
    x = v * per_v
    x = x * x
    root = sqrt(x + e * e)
    width = root + e
    near = 1.0 / width
    w = exp(m * log(x * near + TINY))
    over = w + a
    warm = rise * w * exp(-s * log(over))
    resistance = cold + warm
    product = over * root
    shared = 1.0 / (product * resistance)  # one division for three
    conductance = hot_s * product * shared
    slope = conductance * (1.0 - m * warm * (over - s * w) * width * shared)
    return v * conductance, slope, p[8] * slope * near


def string(v: Numbers, p: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """LED string, charging battery, diode: G (soft(V - Vth) - rest) + leak V."""
    threshold, per_w, softness, slope_on, rest, leak = p[0], p[1], p[2], p[3], p[4], p[5]
    x = (v - threshold) * per_w
    fall = exp(-size(x))
    share = where(x >= 0.0, 1.0, fall) / (1.0 + fall)
    rise = softness * (maximum(x, 0.0) + log1p(fall))
    bend = p[6] * share * (1.0 - share)
    return slope_on * (rise - rest) + leak * v, slope_on * share + leak, bend


def regulated(v: Numbers, p: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """LED string behind a current regulator: I_set (y / (1 + y^n)^(1/n) - rest) + leak V."""
    threshold, per_w, softness, slope_on, rest, leak = p[0], p[1], p[2], p[3], p[4], p[5]
    set_a, n, per_n = p[7], p[8], p[9]
    x = (v - threshold) * per_w
    fall = exp(-size(x))
    share = where(x >= 0.0, 1.0, fall) / (1.0 + fall)
    y = slope_on / set_a * softness * (maximum(x, 0.0) + log1p(fall)) + TINY
    power = exp(-n * size(log(y)))
    root = exp(-per_n * log1p(power))
    above = y > 1.0
    by_y = where(above, power / y, 1.0) * root / (1.0 + power)
    turn = (n + 1.0) * by_y * where(above, 1.0, power) / ((1.0 + power) * y)
    slope = slope_on * by_y * share
    bend = p[6] * share * (1.0 - share) * by_y + turn * slope_on * share * slope_on * share / set_a
    return set_a * (where(above, root, y * root) - rest) + leak * v, slope + leak, bend


def converter(v: Numbers, p: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """Output of a converter: leak V less what it gives, from nothing to its limit."""
    emf, per_ohm, limit, reach = p[0], p[1], p[2], p[3]
    wanted = (emf - v) * per_ohm
    over = wanted - limit
    root, root_over = sqrt(wanted * wanted + _KNEE**2), sqrt(over * over + _KNEE**2)
    rise, rise_over = above(wanted, root), above(over, root_over)
    fall, fall_over = above(-wanted, root), above(-over, root_over)
    high = wanted > 0.5 * limit
    given = where(high, limit + fall - fall_over, rise - rise_over)
    share = where(high, fall_over / root_over - fall / root, rise / root - rise_over / root_over)
    near = maximum(size(wanted) - reach, 0.0)
    near_over = maximum(size(over) - reach, 0.0)
    bend = turn(near) + turn(near_over)
    return v * _LEAK - given, share * per_ohm + _LEAK, bend * per_ohm * per_ohm


def above(x: Numbers, root: Numbers) -> Numbers:
    """The part of x above 0, bent softly at a knee; `root` is sqrt(x^2 + knee^2)."""
    return where(x >= 0.0, 0.5 * (x + root), 0.5 * _KNEE**2 / (root + size(x)))


def turn(x: Numbers) -> Numbers:
    """Half the second derivative of `above`, x away from the knee."""
    square = x * x + _KNEE**2
    return 0.25 * _KNEE**2 / (square * sqrt(square))


Family: TypeAlias = Callable[[Numbers, Numbers], tuple[Numbers, Numbers, Numbers]]

FAMILIES: Final[tuple[Family, ...]] = (filament, string, regulated, converter)
OHMIC: Final = -1
"""Stands for a law that is a plain conductance; its only parameter is that. [S]"""

PARAMETERS: Final = 10
"""Room for the parameters of any family."""

FILAMENT_BEND: Final = 1.1
"""Bend of a filament, in slopes over (voltage + the bend at 0 V); checked by a test."""


@lru_cache(maxsize=4096)
def form_of(law: Law) -> tuple[int, tuple[float, ...]]:
    """Family of a law (an index of `FAMILIES`, or `OHMIC`), and its parameters.

    Raises
    ------
    TypeError
        If the law has no array form.
    """
    return _form(law, 1.0, 1.0)


def kink_v(law: Law) -> tuple[float, float]:
    """Where Newton's method stops over: at 0 V from beyond this, at 0 V from above that. [V]

    The first is for a filament, whose slope changes most around 0 V; the second for a
    threshold: a string that falls below its threshold is tried dark. Infinite if not.
    """
    inside = 1.0
    while isinstance(law, Pulsed):
        inside *= law.scales()[0]
        law = law.law
    match law:
        case Filament():
            return 2.0 * filament_constants(law.k)[2] * law.rated_v / inside, math.inf
        case LedString() | LedCurrent():
            return math.inf, law.threshold_v / inside
        case OneWay():
            return math.inf, law.string().threshold_v / inside
        case _:
            return math.inf, math.inf


def _form(  # noqa: PLR0911
    law: Law, inside: float, outside: float
) -> tuple[int, tuple[float, ...]]:
    """Form of `outside` times the law at `inside` times the voltage."""
    match law:
        case Ohmic():
            return OHMIC, (inside * outside / law.resistance_ohm,)
        case Pulsed():
            more_inside, more_outside = law.scales()
            return _form(law.law, inside * more_inside, outside * more_outside)
        case Filament():
            return 0, _filament_parameters(law, inside, outside)
        case LedString():
            return 1, _string_parameters(law, inside, outside)
        case OneWay():
            return _form(law.string(), inside, outside)
        case LedCurrent():
            return 2, _regulated_parameters(law, inside, outside)
        case ConverterOutput():
            per_ohm = 1.0 / law.resistance_ohm
            return 3, (law.emf_v, per_ohm, law.max_current_a, REACH_V * per_ohm)
        case _:
            raise TypeError(f"{type(law).__name__} has no array form")


def _filament_parameters(law: Filament, inside: float, outside: float) -> tuple[float, ...]:
    a, s, e, m = filament_constants(law.k)
    u1 = 1.0 / (math.hypot(1.0, e) + e)
    w1 = u1**m
    per_v = inside / law.rated_v
    rise = (1.0 - 1.0 / law.k) * (w1 + a) ** s / w1
    hot_s = inside * outside * law.rated_a / law.rated_v
    return per_v, hot_s, e, m, s, a, 1.0 / law.k, rise, FILAMENT_BEND * per_v


def _string_parameters(
    law: LedString | LedCurrent, inside: float, outside: float
) -> tuple[float, ...]:
    softness = law.softness_v / inside
    slope_on = inside * outside / law.resistance_ohm
    rest = softness * math.log1p(math.exp(-law.threshold_v / law.softness_v))
    leak = inside * outside / law.leak_ohm
    bend = 0.5 * slope_on / softness * math.exp(min(REACH_V / softness, 300.0))
    return law.threshold_v / inside, 1.0 / softness, softness, slope_on, rest, leak, bend


def _regulated_parameters(law: LedCurrent, inside: float, outside: float) -> tuple[float, ...]:
    threshold, per_w, softness, slope_on, _, leak, bend = _string_parameters(law, inside, outside)
    rest = law.held_at_rest()
    set_a, n = outside * law.set_current_a, law.sharpness
    return threshold, per_w, softness, slope_on, rest, leak, 1.5 * bend, set_a, n, 1.0 / n
