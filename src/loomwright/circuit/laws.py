"""How the current of a two-terminal load follows the voltage across it.

Every law of a load is passive and strictly increasing: no current at 0 V, and more current
for more voltage, in either direction. A network of such loads has exactly one answer.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, get_args

from loomwright.circuit.refusals import need_between, need_positive
from loomwright.invalid import InvalidInput

PulseKind = Literal["heats", "freewheels", "follows"]
"""What a load makes of a pulsed feed: see `Pulsed`."""


def spice_number(value: float) -> str:
    """A number as SPICE reads it, with every digit, safe behind any operator."""
    text = repr(float(value))
    return f"({text})" if value < 0 else text


class Law(ABC):
    """Current through a load as a function of the voltage across it."""

    __slots__ = ()

    @abstractmethod
    def current_a(self, voltage_v: float) -> float:
        """Current from the first terminal to the second. [A]"""

    @abstractmethod
    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current by the voltage, more than 0. [S]"""

    @abstractmethod
    def expression(self, voltage: str) -> str:
        """Write the current as a SPICE expression of the voltage expression `voltage`."""

    def spice(self, a: str, b: str) -> str:
        """Write the current as a SPICE expression of the voltage from node `a` to node `b`."""
        return self.expression(f"V({a},{b})")


@dataclass(frozen=True, slots=True)
class Ohmic(Law):
    """A plain resistance, such as a brake magnet or a heater at one temperature."""

    resistance_ohm: float

    def __post_init__(self) -> None:
        need_positive("resistance_ohm", self.resistance_ohm)

    def current_a(self, voltage_v: float) -> float:
        """Current by Ohm's law. [A]"""
        return voltage_v / self.resistance_ohm

    def slope_s(self, voltage_v: float) -> float:
        """Conductance. [S]"""
        return 1.0 / self.resistance_ohm

    def expression(self, voltage: str) -> str:
        """Write Ohm's law for SPICE."""
        return f"{voltage}/{spice_number(self.resistance_ohm)}"


# (k, a, s, e, m): constants of the closed form, fitted to the heat balance of tungsten for
# three ratios of hot to cold resistance; in between they are interpolated.
_FILAMENT_FITS: Final = (
    (10.0, 0.0776, 0.7239, 0.0043, 1.5105),
    (13.0, 0.0854, 0.7280, 0.0037, 1.4630),
    (14.0, 0.0883, 0.7291, 0.0036, 1.4496),
)


@dataclass(frozen=True, slots=True)
class Filament(Law):
    """A tungsten filament in its steady state, from 0 V to overvoltage, either way round.

    Parameters
    ----------
    rated_v : float
        Voltage of the published test point. [V]
    rated_a : float
        Current at `rated_v`. [A]
    k : float
        Resistance hot (at `rated_v`) over cold, 9 to 15.

    Raises
    ------
    InvalidInput
        If a value is not positive, or `k` is outside 9 to 15.

    Notes
    -----
    With x = |V|/V0 and u = sqrt(x^2 + e^2) - e (u1 at x = 1)::

        G = (u/u1)^m ((u1^m + a)/(u^m + a))^s
        I = V / ((V0/I0) (1/k + (1 - 1/k) G))

    The form follows the heat balance of a filament, V^2/R(T) = conduction + radiation with
    R proportional to T^1.213, within 0.5 % from 0.1 % to 130 % of rated volts (fitted for
    k = 10, 13 and 14). Near rated volts the current goes with the 0.55th power of the
    voltage, as handbooks have it; far below, the filament stays cold and takes more than that.
    Not for switch-on: a filament still cold draws up to k times its current.
    """

    rated_v: float
    rated_a: float
    k: float = 13.0

    def __post_init__(self) -> None:
        need_positive("rated_v", self.rated_v)
        need_positive("rated_a", self.rated_a)
        need_between("k", self.k, 9.0, 15.0)

    def current_a(self, voltage_v: float) -> float:
        """Steady current, odd in the voltage. [A]"""
        return voltage_v / self._resistance(voltage_v)[0]

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the steady current. [S]"""
        resistance, slope = self._resistance(voltage_v)
        return (1.0 - abs(voltage_v) * slope / resistance) / resistance

    def expression(self, voltage: str) -> str:
        """Write the closed form for SPICE, with no power of a negative number."""
        a, s, e, m = filament_constants(self.k)
        w1 = _u(1.0, e) ** m
        hot_ohm = self.rated_v / self.rated_a
        square = f"{voltage}*{voltage}*{spice_number(self.rated_v**-2)}"
        u = f"{square}/(sqrt({square}+{spice_number(e * e)})+{spice_number(e)})"
        w = f"pow({u},{spice_number(m)})"
        cold = spice_number(hot_ohm / self.k)
        rise = spice_number(hot_ohm * (1.0 - 1.0 / self.k) / w1)
        bend = f"pow({spice_number(w1 + a)}/({w}+{spice_number(a)}),{spice_number(s)})"
        return f"{voltage}/({cold}+{rise}*{w}*{bend})"

    def _resistance(self, voltage_v: float) -> tuple[float, float]:
        """Resistance, and its derivative by the size of the voltage."""
        a, s, e, m = filament_constants(self.k)
        x = abs(voltage_v) / self.rated_v
        u = _u(x, e)
        w, w1 = u**m, _u(1.0, e) ** m
        bend = ((w1 + a) / (w + a)) ** s / w1
        hot_ohm = self.rated_v / self.rated_a
        resistance = hot_ohm * (1.0 / self.k + (1.0 - 1.0 / self.k) * w * bend)
        by_w = hot_ohm * (1.0 - 1.0 / self.k) * bend * (1.0 - s * w / (w + a))
        w_by_x = m * u ** (m - 1.0) * x / math.hypot(x, e)
        return resistance, by_w * w_by_x / self.rated_v


@dataclass(frozen=True, slots=True)
class Pulsed(Law):
    """A load on a pulsed feed, as the feed sees it while a pulse is on.

    Parameters
    ----------
    law : Law
        The load on a steady feed.
    duty : float
        Share of the time the pulse is on, more than 0 to 1.
    kind : {"heats", "freewheels", "follows"}
        ``heats``: a filament settles at the rms voltage, and its resistance stays there
        through the pulse: I(V sqrt d) / sqrt d. ``freewheels``: the current of a magnet with
        a freewheel path stays at its mean: I(d V). ``follows``: an LED follows the pulse: I(V).

    Raises
    ------
    InvalidInput
        If the duty is not above 0 and at most 1, or the kind is unknown.

    Notes
    -----
    For pulses too fast for the load to follow, from about 60 Hz. The mean current of a
    filament or an LED is `duty` times the current during the pulse.
    """

    law: Law
    duty: float
    kind: PulseKind

    def __post_init__(self) -> None:
        need_positive("duty", self.duty)
        need_between("duty", self.duty, 0.0, 1.0)
        if self.kind not in get_args(PulseKind):
            raise InvalidInput("kind", self.kind, f"choose from {', '.join(get_args(PulseKind))}")

    def current_a(self, voltage_v: float) -> float:
        """Current while the pulse is on. [A]"""
        inside, outside = self.scales()
        return outside * self.law.current_a(inside * voltage_v)

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current while the pulse is on. [S]"""
        inside, outside = self.scales()
        return outside * inside * self.law.slope_s(inside * voltage_v)

    def expression(self, voltage: str) -> str:
        """Write the current while the pulse is on for SPICE."""
        inside, outside = self.scales()
        scaled = f"({spice_number(inside)}*{voltage})"
        return f"{spice_number(outside)}*({self.law.expression(scaled)})"

    def scales(self) -> tuple[float, float]:
        """Factor on the voltage going in, factor on the current coming out."""
        if self.kind == "heats":
            return math.sqrt(self.duty), 1.0 / math.sqrt(self.duty)
        if self.kind == "freewheels":
            return self.duty, 1.0
        return 1.0, 1.0


def _u(x: float, e: float) -> float:
    """sqrt(x^2 + e^2) - e, without cancellation."""
    return x * x / (math.hypot(x, e) + e)


@lru_cache(maxsize=64)
def filament_constants(k: float) -> tuple[float, float, float, float]:
    """a, s, e and m for one ratio, on the straight line through the two nearest fits."""
    low, high = _FILAMENT_FITS[:2] if k <= _FILAMENT_FITS[1][0] else _FILAMENT_FITS[1:]
    t = (k - low[0]) / (high[0] - low[0])
    a, s, e, m = (p + t * (q - p) for p, q in zip(low[1:], high[1:], strict=True))
    return a, s, e, m
