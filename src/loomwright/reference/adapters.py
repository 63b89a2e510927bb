"""What joins one connector to another: adapters of plugs and converters of signals."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.reference.nearest import nearest_known
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.reference"

Signal = Literal["off", "on", "flashing"]
SIGNALS: dict[str, Signal] = {"off": "off", "on": "on", "flashing": "flashing"}


@dataclass(frozen=True, slots=True)
class Adapter:
    """Contacts of a vehicle socket joined to those of a trailer plug.

    `converters` are the signal converters that carry across what plain joining cannot.
    `is_safe` is false where the bodies mate and must not. Worked out from the contact
    allocations of both sides.
    """

    vehicle: str
    trailer: str
    joins: tuple[str, ...]
    converters: tuple[str, ...]
    is_safe: bool
    note: str
    source: str
    standing: Standing

    @property
    def pin_pairs(self) -> tuple[tuple[str, str], ...]:
        """Joined contacts as (vehicle, trailer) numbers."""
        parts = (join.partition(">") for join in self.joins)
        return tuple((left, right) for left, _, right in parts)

    @property
    def kept(self) -> tuple[str, ...]:
        """Functions of the trailer that the vehicle feeds by plain joining."""
        return self._at_trailer(is_joined=True)

    @property
    def unfed(self) -> tuple[str, ...]:
        """Functions of the trailer that plain joining leaves dead."""
        return self._at_trailer(is_joined=False)

    @property
    def lost(self) -> tuple[str, ...]:
        """Functions of the vehicle that plain joining does not carry across."""
        return _functions(self.vehicle, {left for left, _ in self.pin_pairs}, is_joined=False)

    def _at_trailer(self, *, is_joined: bool) -> tuple[str, ...]:
        joined = {right for _, right in self.pin_pairs}
        return _functions(self.trailer, joined, is_joined=is_joined)


@dataclass(frozen=True, slots=True)
class SignalConverter:
    """A box that makes the signals of one system from those of the other."""

    key: str
    title: str
    inputs: tuple[str, ...]
    outputs: tuple[str, ...]
    needs_battery_feed: bool
    logic: str
    source: str
    standing: Standing

    def outputs_for(self, inputs: Mapping[str, Signal]) -> dict[str, Signal]:
        """Return what each output does for these inputs; an input not given is off.

        Raises
        ------
        InvalidInput
            If the table has no line for them, as for one steady signal alone at a splitting
            converter, which cannot be told from the first flash of a turn.
        """
        wanted = {name: inputs.get(name, "off") for name in self.inputs}
        for line in read_rows(PACKAGE, "converter_logic", ConverterLine):
            if line.converter == self.key and line.states(line.inputs) == wanted:
                return line.states(line.outputs)
        raise InvalidInput(
            f"converters.{self.key}.inputs", wanted, "give signals that the converter tells apart"
        )


@dataclass(frozen=True, slots=True)
class ConverterLine:
    """One line of what a converter does."""

    converter: str
    inputs: tuple[str, ...]
    outputs: tuple[str, ...]
    source: str
    standing: Standing

    @staticmethod
    def states(cells: tuple[str, ...]) -> dict[str, Signal]:
        """Return the signals written as ``stop=on``."""
        parts = (cell.partition("=") for cell in cells)
        return {name: SIGNALS[state] for name, _, state in parts}


def _functions(key: str, joined: set[str], *, is_joined: bool) -> tuple[str, ...]:
    found = (
        pin.function
        for pin in connector(key).pins
        if (pin.number in joined) == is_joined
        and function(pin.function).kind not in ("return", "spare")
    )
    return tuple(dict.fromkeys(found))


def adapters() -> tuple[Adapter, ...]:
    """Every adapter in the table."""
    return read_rows(PACKAGE, "adapters", Adapter)


def adapter(vehicle: str, trailer: str) -> Adapter | None:
    """Return the adapter from a vehicle socket to a trailer plug, None if none is recorded."""
    wanted = (vehicle, trailer)
    return next((row for row in adapters() if (row.vehicle, row.trailer) == wanted), None)


def signal_converters() -> tuple[SignalConverter, ...]:
    """Every signal converter in the table."""
    return read_rows(PACKAGE, "signal_converters", SignalConverter)


def signal_converter(key: str, field: str = "converter") -> SignalConverter:
    """Return the converter with this short name; raise `InvalidInput` if none."""
    for row in signal_converters():
        if row.key == key:
            return row
    known = tuple(row.key for row in signal_converters())
    raise InvalidInput(field, key, nearest_known(key, known))
