"""Laws of loads that take hardly any current below a threshold voltage."""

from __future__ import annotations

import math
from abc import abstractmethod
from dataclasses import dataclass

from loomwright.circuit.laws import Law, spice_number
from loomwright.circuit.refusals import need_between, need_positive


@dataclass(frozen=True, slots=True)
class LedString(Law):
    """LEDs in series with a resistor and, mostly, a diode against reverse.

    Parameters
    ----------
    threshold_v : float
        Voltage where the string starts to light. [V]
    resistance_ohm : float
        Series resistance above the threshold. [ohm]
    softness_v : float
        Width of the bend at the threshold. [V]
    leak_ohm : float
        Leakage in parallel, either way round. [ohm]

    Raises
    ------
    InvalidInput
        If a value is not positive.

    Notes
    -----
    I = (w/R) (ln(1 + exp((V - Vth)/w)) - ln(1 + exp(-Vth/w))) + V/leak. The constant makes
    the current 0 at 0 V; without it the string would be a tiny source.
    """

    threshold_v: float
    resistance_ohm: float
    softness_v: float = 0.2
    leak_ohm: float = 1e6

    def __post_init__(self) -> None:
        for field in ("threshold_v", "resistance_ohm", "softness_v", "leak_ohm"):
            need_positive(field, getattr(self, field))

    def current_a(self, voltage_v: float) -> float:
        """Current of the string. [A]"""
        rise_v = _soft_v(voltage_v - self.threshold_v, self.softness_v)
        rest_v = _soft_v(-self.threshold_v, self.softness_v)
        return (rise_v - rest_v) / self.resistance_ohm + voltage_v / self.leak_ohm

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current. [S]"""
        share = _soft_slope(voltage_v - self.threshold_v, self.softness_v)
        return share / self.resistance_ohm + 1.0 / self.leak_ohm

    def expression(self, voltage: str) -> str:
        """Write the law for SPICE, safe at any voltage."""
        rise = _soft_text(voltage, self.threshold_v, self.softness_v)
        rest = spice_number(_soft_v(-self.threshold_v, self.softness_v))
        ohm, leak = spice_number(self.resistance_ohm), spice_number(self.leak_ohm)
        return f"({rise}-{rest})/{ohm}+{voltage}/{leak}"


@dataclass(frozen=True, slots=True)
class LedCurrent(Law):
    """An LED string behind a linear current regulator.

    Parameters
    ----------
    threshold_v, resistance_ohm : float
        As for `LedString`, below the limit.
    set_current_a : float
        Current the regulator holds once there is voltage enough. [A]
    softness_v : float
        As for `LedString`. [V]
    sharpness : float
        How sharply the regulator takes hold, 1 to 20.
    leak_ohm : float
        As for `LedString`. [ohm]

    Raises
    ------
    InvalidInput
        If a value is not positive, or the sharpness is outside 1 to 20.

    Notes
    -----
    y = soft(V - Vth)/(R Iset), I = Iset y/(1 + y^n)^(1/n), less its value at 0 V, plus
    V/leak.
    """

    threshold_v: float
    resistance_ohm: float
    set_current_a: float
    softness_v: float = 0.2
    sharpness: float = 6.0
    leak_ohm: float = 1e6

    def __post_init__(self) -> None:
        for field in ("threshold_v", "resistance_ohm", "set_current_a", "softness_v", "leak_ohm"):
            need_positive(field, getattr(self, field))
        need_between("sharpness", self.sharpness, 1.0, 20.0)

    def current_a(self, voltage_v: float) -> float:
        """Current of the lamp. [A]"""
        held = self._held(self._y(voltage_v)) - self.held_at_rest()
        return self.set_current_a * held + voltage_v / self.leak_ohm

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current. [S]"""
        y, n = self._y(voltage_v), self.sharpness
        if y > 1.0:
            by_y = y ** (-n - 1.0) * (1.0 + y**-n) ** (-1.0 / n - 1.0)
        else:
            by_y = (1.0 + y**n) ** (-1.0 / n - 1.0)
        share = _soft_slope(voltage_v - self.threshold_v, self.softness_v)
        return float(by_y) * share / self.resistance_ohm + 1.0 / self.leak_ohm

    def expression(self, voltage: str) -> str:
        """Write the law for SPICE."""
        n = spice_number(self.sharpness)
        rise = _soft_text(voltage, self.threshold_v, self.softness_v)
        y = f"({rise}/{spice_number(self.resistance_ohm * self.set_current_a)})"
        held = f"{y}/pow(1+pow({y},{n}),1/{n})"
        rest = spice_number(self.held_at_rest())
        current, leak = spice_number(self.set_current_a), spice_number(self.leak_ohm)
        return f"{current}*({held}-{rest})+{voltage}/{leak}"

    def held_at_rest(self) -> float:
        """Share of the set current the bare formula has at 0 V; the law takes it off."""
        return self._held(self._y(0.0))

    def _y(self, voltage_v: float) -> float:
        rise_v = _soft_v(voltage_v - self.threshold_v, self.softness_v)
        return rise_v / (self.resistance_ohm * self.set_current_a)

    def _held(self, y: float) -> float:
        n = self.sharpness
        if y > 1.0:
            return float((1.0 + y**-n) ** (-1.0 / n))
        return float(y * (1.0 + y**n) ** (-1.0 / n))


class OneWay(Law):
    """A law of the same form as a string of LEDs has."""

    __slots__ = ()

    @abstractmethod
    def string(self) -> LedString:
        """The string of LEDs that has this law."""

    def current_a(self, voltage_v: float) -> float:
        """Current forwards. [A]"""
        return self.string().current_a(voltage_v)

    def slope_s(self, voltage_v: float) -> float:
        """Derivative of the current. [S]"""
        return self.string().slope_s(voltage_v)

    def expression(self, voltage: str) -> str:
        """Write the law for SPICE."""
        return self.string().expression(voltage)


@dataclass(frozen=True, slots=True)
class ChargingBattery(OneWay):
    """A battery that can only be charged: a diode or a relay keeps it from giving back.

    A battery that works both ways is a `Source`.

    Parameters
    ----------
    emf_v : float
        Voltage above which it takes charge, with the drop of the diode if there is one. [V]
    resistance_ohm : float
        Inner resistance while charging. [ohm]
    softness_v, leak_ohm : float
        As for `LedString`.

    Raises
    ------
    InvalidInput
        If a value is not positive.
    """

    emf_v: float
    resistance_ohm: float
    softness_v: float = 0.02
    leak_ohm: float = 1e6

    def __post_init__(self) -> None:
        for field in ("emf_v", "resistance_ohm", "softness_v", "leak_ohm"):
            need_positive(field, getattr(self, field))

    def string(self) -> LedString:
        """The string of LEDs that has this law."""
        return LedString(self.emf_v, self.resistance_ohm, self.softness_v, self.leak_ohm)


@dataclass(frozen=True, slots=True)
class Diode(OneWay):
    """A one-way path with a forward drop, as in a converter made of diodes.

    Parameters
    ----------
    forward_v : float
        Drop at small current. [V]
    resistance_ohm : float
        Rise of the drop with the current. [ohm]
    softness_v, leak_ohm : float
        As for `LedString`.

    Raises
    ------
    InvalidInput
        If a value is not positive.
    """

    forward_v: float
    resistance_ohm: float
    softness_v: float = 0.05
    leak_ohm: float = 1e6

    def __post_init__(self) -> None:
        for field in ("forward_v", "resistance_ohm", "softness_v", "leak_ohm"):
            need_positive(field, getattr(self, field))

    def string(self) -> LedString:
        """The string of LEDs that has this law."""
        return LedString(self.forward_v, self.resistance_ohm, self.softness_v, self.leak_ohm)


def _soft_v(over_v: float, softness_v: float) -> float:
    """The part of `over_v` above 0, bent softly: w ln(1 + exp(x/w))."""
    return max(over_v, 0.0) + softness_v * math.log1p(math.exp(-abs(over_v) / softness_v))


def _soft_slope(over_v: float, softness_v: float) -> float:
    """Derivative of `_soft_v`, 0 to 1."""
    fall = math.exp(-abs(over_v) / softness_v)
    return (1.0 if over_v >= 0 else fall) / (1.0 + fall)


def _soft_text(voltage: str, threshold_v: float, softness_v: float) -> str:
    """`_soft_v` of the voltage above the threshold, as SPICE text."""
    w = spice_number(softness_v)
    x = f"({voltage}-{spice_number(threshold_v)})"
    return f"(0.5*({x}+abs({x}))+{w}*ln(1+exp(-abs({x})/{w})))"
