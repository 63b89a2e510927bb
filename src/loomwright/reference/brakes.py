"""Electric brakes: magnets, the wire they need, controllers, the breakaway battery."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.copper import PACKAGE, TEMPERATURE_COEFFICIENT_PER_K
from loomwright.tables import read_rows

M_PER_FT = 0.3048


@dataclass(frozen=True, slots=True)
class Magnet:
    """A brake magnet by its drum [in]: ohms at 20 °C with their range, amperes of manuals.

    Manuals tell the current of a warm magnet behind real wire, so it is less than 12 V over the
    cold resistance.
    """

    size_in: float
    resistance_20_ohm: float
    low_ohm: float
    high_ohm: float
    manual_a: float
    note: str | None
    source: str
    standing: str

    def resistance_ohm(self, temperature_c: float = 20.0) -> float:
        """Return the resistance of its copper at a temperature. [ohm]"""
        warmer_k = temperature_c - 20
        return self.resistance_20_ohm * (1 + TEMPERATURE_COEFFICIENT_PER_K * warmer_k)


@dataclass(frozen=True, slots=True)
class BrakeWire:
    """Least wire for so many magnets up to a distance from hitch to axle."""

    magnets: int
    hitch_to_axle_ft_max: float
    awg: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class BrakeFact:
    """A figure about controllers or breakaway systems."""

    key: str
    value: float
    unit: str | None
    says: str
    source: str
    standing: str


def magnets() -> tuple[Magnet, ...]:
    """Return every magnet of the table."""
    return read_rows(PACKAGE, "brake_magnets", Magnet)


def magnet(size_in: float) -> Magnet:
    """Return the magnet of a brake by its drum size. [in]

    Raises
    ------
    InvalidInput
        If the table has no such size; names those it has.

    References
    ----------
    magnet-test-figures: the test chart is V / 3.2 ohm (10 and 12 in) and V / 3.8 ohm (7 in).
    """
    for row in magnets():
        if row.size_in == size_in:
            return row
    known = ", ".join(f"{row.size_in:g}" for row in magnets())
    raise InvalidInput("size_in", size_in, f"use a drum of {known} in")


def least_brake_wire(magnet_count: int, hitch_to_axle_m: float) -> BrakeWire | None:
    """Return the row for the least wire from hitch to axle, None if the table does not reach.

    Parameters
    ----------
    magnet_count : int
        Magnets on the wire, 1 or more.
    hitch_to_axle_m : float
        Distance, one way. [m]

    References
    ----------
    brake-wire-table.
    """
    if magnet_count < 1:
        raise InvalidInput("magnet_count", magnet_count, "give 1 magnet or more")
    rows = read_rows(PACKAGE, "brake_wires", BrakeWire)
    fitting = [
        row
        for row in rows
        if row.magnets >= magnet_count and row.hitch_to_axle_ft_max * M_PER_FT >= hitch_to_axle_m
    ]
    return min(fitting, key=lambda row: (row.magnets, row.hitch_to_axle_ft_max), default=None)


def least_brake_wire_size(magnet_count: int, hitch_to_axle_m: float) -> WireSize | None:
    """Return the least wire from hitch to axle, None if the table does not reach."""
    row = least_brake_wire(magnet_count, hitch_to_axle_m)
    return None if row is None else WireSize("awg", row.awg)


def brake_fact(key: str) -> BrakeFact:
    """Return a figure about controllers or breakaway systems by its key.

    Raises
    ------
    InvalidInput
        If the table has no such key; names those it has.
    """
    rows = read_rows(PACKAGE, "brake_facts", BrakeFact)
    for row in rows:
        if row.key == key:
            return row
    raise InvalidInput("brake_fact", key, f"use one of {', '.join(row.key for row in rows)}")


def breakaway_minutes(capacity_ah: float, current_a: float) -> float:
    """Return how long a charged breakaway battery drives a current. [min]

    Parameters
    ----------
    capacity_ah : float
        Told for 20 hours. [Ah]
    current_a : float
        Of all magnets. [A]

    Notes
    -----
    Peukert, t = 20 h (C / 20 h / I)^1.2, with an assumed exponent: an estimate for choosing the
    battery, no promise. Cold or old batteries hold less.
    """
    for field, value in (("capacity_ah", capacity_ah), ("current_a", current_a)):
        if not value > 0:
            raise InvalidInput(field, value, "give a value above 0")
    hours = brake_fact("peukert-hours").value
    exponent = brake_fact("peukert").value
    return float(hours * (capacity_ah / hours / current_a) ** exponent * 60)
