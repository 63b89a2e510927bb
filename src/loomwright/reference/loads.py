"""Other loads on a trailer, and what circuits, sockets and converters are rated for."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

LoadLaw = Literal["resistance", "constant-power", "motor", "filament", "led", "electronic"]


@dataclass(frozen=True, slots=True)
class LoadRow:
    """A kind of load: how its current follows voltage, and its size in W or A at a voltage.

    A constant-power load switches off below `off_below_v` and on again above `on_above_v`.
    """

    key: str
    title: str
    law: LoadLaw
    low: float
    typical: float
    high: float
    unit: Literal["W", "A"]
    at_v: float
    off_below_v: float | None
    on_above_v: float | None
    note: str | None
    source: str
    standing: str

    @property
    def typical_w(self) -> float:
        """Typical power at its voltage. [W]"""
        return self.typical if self.unit == "W" else self.typical * self.at_v

    @property
    def typical_a(self) -> float:
        """Typical current at its voltage. [A]"""
        return self.typical if self.unit == "A" else self.typical / self.at_v


@dataclass(frozen=True, slots=True)
class WinchPull:
    """Current of a winch at a line pull. [lb, A]"""

    winch: str
    pull_lb: float
    current_a: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class CircuitRating:
    """Usual fuses and wires of a vehicle circuit by function. [A]"""

    key: str
    functions: tuple[str, ...]
    fuse_low_a: float | None
    fuse_high_a: float | None
    thinnest_awg: str
    thickest_awg: str
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class SocketLimit:
    """What a European trailer module needs to notice a lamp and what it gives at most. [A]"""

    key: str
    functions: tuple[str, ...]
    min_a: float | None
    max_a: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class ConverterRating:
    """What a kind of converter carries per output, and its fuse. [A]"""

    key: str
    title: str
    stop_turn_a: float
    tail_a: float
    fuse_a: float | None
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class LampEstimate:
    """Current to reckon with for a filament lamp not looked at closer. [A]"""

    key: str
    current_a: float
    says: str
    source: str
    standing: str


def loads() -> tuple[LoadRow, ...]:
    """Return every kind of load in the table."""
    return read_rows(PACKAGE, "loads", LoadRow)


def load(key: str) -> LoadRow:
    """Return a kind of load by its key, such as ``compressor-fridge``.

    Raises
    ------
    InvalidInput
        If the table has no such load; names those it has.
    """
    for row in loads():
        if row.key == key:
            return row
    raise InvalidInput("load", key, f"use one of {', '.join(row.key for row in loads())}")


def winch_current_a(winch: str, pull_lb: float) -> float:
    """Return the current of a winch at a line pull, straight between published pulls. [A]

    Raises
    ------
    InvalidInput
        If the table has no such winch or the pull is outside it.
    """
    rows = [row for row in read_rows(PACKAGE, "winch_pulls", WinchPull) if row.winch == winch]
    if not rows:
        raise InvalidInput("winch", winch, "use 9500 or small")
    for less, more in pairwise(rows):
        if less.pull_lb <= pull_lb <= more.pull_lb:
            share = (pull_lb - less.pull_lb) / (more.pull_lb - less.pull_lb)
            return less.current_a + (more.current_a - less.current_a) * share
    raise InvalidInput("pull_lb", pull_lb, f"give a pull from 0 to {rows[-1].pull_lb:g} lb")


def charger_input_a(
    output_v: float, output_a: float, input_v: float, efficiency: float = 0.9
) -> float:
    """Return what a DC-DC charger draws. [A]

    Parameters
    ----------
    output_v, output_a : float
        What it gives the battery. [V, A]
    input_v : float
        At its own terminals. [V]
    efficiency : float
        0.85 to 0.93.

    Raises
    ------
    InvalidInput
        If a voltage or the efficiency is not above 0.

    References
    ----------
    trailer-charger-manual.
    """
    for field, value in (("input_v", input_v), ("efficiency", efficiency)):
        if not value > 0:
            raise InvalidInput(field, value, "give a value above 0")
    return output_v * output_a / (efficiency * input_v)


def circuit_rating(function: str) -> CircuitRating:
    """Return the usual fuse and wire of a vehicle circuit by function id or key.

    Raises
    ------
    InvalidInput
        If the table has neither.
    """
    rows = read_rows(PACKAGE, "circuit_ratings", CircuitRating)
    for row in rows:
        if function == row.key or function in row.functions:
            return row
    raise InvalidInput("function", function, f"use one of {', '.join(row.key for row in rows)}")


def socket_limits() -> tuple[SocketLimit, ...]:
    """Return what a European trailer module needs and gives, by function."""
    return read_rows(PACKAGE, "socket_limits", SocketLimit)


def socket_limit(function: str) -> SocketLimit | None:
    """Return what a European trailer module needs and gives, None where nothing is stated."""
    return next((row for row in socket_limits() if function in row.functions), None)


def converter_rating(key: str) -> ConverterRating:
    """Return the ratings of a kind of converter: ``two-wire``, ``three-wire``, ``powered``.

    Raises
    ------
    InvalidInput
        If the table has no such kind.
    """
    rows = read_rows(PACKAGE, "converter_ratings", ConverterRating)
    for row in rows:
        if row.key == key:
            return row
    raise InvalidInput("converter", key, f"use one of {', '.join(row.key for row in rows)}")


def lamp_estimate(key: str) -> LampEstimate:
    """Return the current to reckon with for a filament lamp: ``stop_turn``, ``tail``, ``marker``.

    Raises
    ------
    InvalidInput
        If the table has no such lamp.
    """
    rows = read_rows(PACKAGE, "lamp_estimates", LampEstimate)
    for row in rows:
        if row.key == key:
            return row
    raise InvalidInput("lamp", key, f"use one of {', '.join(row.key for row in rows)}")
