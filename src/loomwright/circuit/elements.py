"""The elements a network is made of, each between named nodes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from loomwright.circuit.laws import Law
from loomwright.circuit.refusals import (
    need_between,
    need_finite,
    need_name,
    need_positive,
    need_two_nodes,
)
from loomwright.invalid import InvalidInput


@dataclass(frozen=True, slots=True)
class Resistor:
    """A resistance between two nodes: a wire, a contact, a joint. An infinite one is open."""

    name: str
    a: str
    b: str
    resistance_ohm: float

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm, finite=False)


@dataclass(frozen=True, slots=True)
class Switch:
    """A resistance that can be closed or open."""

    name: str
    a: str
    b: str
    resistance_ohm: float
    closed: bool

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm, finite=False)


@dataclass(frozen=True, slots=True)
class Fuse:
    """A resistance that opens by itself at `opens_at` times its rating or more.

    `open` is a fuse that has been pulled or has blown before. The default of `opens_at` is
    the overload at which blade fuses must open within minutes (common practice). One that
    `resets` is a breaker that closes again by itself once it has cooled.
    """

    name: str
    a: str
    b: str
    resistance_ohm: float
    rating_a: float
    opens_at: float = 1.35
    open: bool = False
    resets: bool = False

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm, finite=False)
        need_positive(f"{self.name}.rating_a", self.rating_a)
        need_positive(f"{self.name}.opens_at", self.opens_at)


@dataclass(frozen=True, slots=True)
class Driver:
    """The output of a module: a switch that watches its own current, faster than any fuse.

    At `limit_a` or more it opens. If it `latches` it stays open until it is switched anew;
    else it tries again and again. Below `least_a` it takes it that no load is there, and
    opens too. What flashes is a `Flasher`, of `flashers`.
    """

    name: str
    a: str
    b: str
    resistance_ohm: float
    closed: bool
    limit_a: float
    least_a: float = 0.0
    latches: bool = True

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm, finite=False)
        need_positive(f"{self.name}.limit_a", self.limit_a, finite=False)
        need_between(f"{self.name}.least_a", self.least_a, 0.0, self.limit_a)


@dataclass(frozen=True, slots=True)
class Source:
    """An EMF behind an inner resistance: a battery, an alternator, a supply. Works both ways."""

    name: str
    plus: str
    minus: str
    emf_v: float
    resistance_ohm: float

    def __post_init__(self) -> None:
        _check_ends(self.name, self.plus, self.minus)
        need_finite(f"{self.name}.emf_v", self.emf_v)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm, finite=False)


@dataclass(frozen=True, slots=True)
class Load:
    """A load with a law: its current follows the voltage from `a` to `b`."""

    name: str
    a: str
    b: str
    law: Law

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)


@dataclass(frozen=True, slots=True)
class ConstantPower:
    """A load that takes the same power at any voltage, as a switch-mode LED lamp does.

    It goes off when its voltage falls below `off_below_v`, comes back at `on_above_v` (an
    infinite one never does), takes no more than `max_current_a`, and is a resistance of
    `off_resistance_ohm` while off.
    """

    name: str
    a: str
    b: str
    power_w: float
    off_below_v: float
    on_above_v: float
    max_current_a: float = math.inf
    off_resistance_ohm: float = 1e5

    def __post_init__(self) -> None:
        _check_ends(self.name, self.a, self.b)
        need_between(f"{self.name}.power_w", self.power_w, 0.0, 1e6)
        need_positive(f"{self.name}.off_below_v", self.off_below_v)
        need_positive(f"{self.name}.max_current_a", self.max_current_a, finite=False)
        need_positive(f"{self.name}.off_resistance_ohm", self.off_resistance_ohm)
        if not self.on_above_v >= self.off_below_v:
            raise InvalidInput(
                f"{self.name}.on_above_v",
                self.on_above_v,
                f"enter at least off_below_v, {self.off_below_v:g} V",
            )


@dataclass(frozen=True, slots=True)
class Transformed:
    """A DC-DC converter: a source at its output, a draw of constant power at its input.

    The output is an EMF behind a resistance up to `max_current_a`, where its voltage droops;
    it takes no current back. The input draws the output power over the efficiency. Below
    `off_below_v` at the input it is off, and comes back at `on_above_v` (by default
    the same).
    """

    name: str
    in_a: str
    in_b: str
    out_plus: str
    out_minus: str
    emf_v: float
    resistance_ohm: float
    efficiency: float
    max_current_a: float
    off_below_v: float
    on_above_v: float | None = None
    off_resistance_ohm: float = 1e5

    def __post_init__(self) -> None:
        _check_ends(self.name, self.in_a, self.in_b)
        _check_ends(self.name, self.out_plus, self.out_minus)
        need_positive(f"{self.name}.emf_v", self.emf_v)
        need_positive(f"{self.name}.resistance_ohm", self.resistance_ohm)
        need_positive(f"{self.name}.efficiency", self.efficiency)
        need_between(f"{self.name}.efficiency", self.efficiency, 0.0, 1.0)
        need_positive(f"{self.name}.max_current_a", self.max_current_a)
        need_positive(f"{self.name}.off_below_v", self.off_below_v)
        need_positive(f"{self.name}.off_resistance_ohm", self.off_resistance_ohm)
        if self.on_above_v is not None and not self.on_above_v >= self.off_below_v:
            raise InvalidInput(
                f"{self.name}.on_above_v",
                self.on_above_v,
                f"enter at least off_below_v, {self.off_below_v:g} V",
            )


Element: TypeAlias = Resistor | Switch | Fuse | Driver | Source | Load | ConstantPower | Transformed


def ends(element: Element) -> tuple[tuple[str, str], ...]:
    """Node pairs of the branches of an element: two for a converter (input, output), else one."""
    match element:
        case Source(plus=plus, minus=minus):
            return ((plus, minus),)
        case Transformed():
            return (element.in_a, element.in_b), (element.out_plus, element.out_minus)
        case _:
            return ((element.a, element.b),)


def _check_ends(name: str, a: str, b: str) -> None:
    need_name("element name", name)
    need_two_nodes(name, a, b)
