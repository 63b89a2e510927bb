"""Batteries and generators: voltage at rest, resistance, set-points of the supply."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from loomwright.invalid import InvalidInput
from loomwright.quantities import read_resistance_ohm, read_voltage_v
from loomwright.reference.copper import PACKAGE
from loomwright.reference.defaults import default
from loomwright.tables import read_rows


@dataclass(frozen=True, slots=True)
class EmfPoint:
    """Resting voltage of a 12 V battery at a state of charge."""

    chemistry: str
    charge_percent: float
    emf_v: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Chemistry:
    """A battery chemistry: resistance of 12 V and 100 Ah, giving and taking current. [ohm]

    Charging has the higher figure because it counts the polarisation at mid charge.
    """

    key: str
    title: str
    discharge_100ah_ohm: float
    charge_100ah_ohm: float
    note: str | None
    source: str
    standing: str

    def resistance_ohm(self, capacity_ah: float, *, charging: bool) -> float:
        """Return the resistance of a 12 V battery of this capacity. [ohm]

        Raises
        ------
        InvalidInput
            If the capacity is not above 0.
        """
        if not capacity_ah > 0:
            raise InvalidInput("capacity_ah", capacity_ah, "give the capacity, above 0 Ah")
        at_100ah = self.charge_100ah_ohm if charging else self.discharge_100ah_ohm
        return at_100ah * 100 / capacity_ah


def chemistries() -> tuple[Chemistry, ...]:
    """Return every chemistry of the table."""
    return read_rows(PACKAGE, "batteries", Chemistry)


def chemistry(key: str) -> Chemistry:
    """Return a chemistry by its key: ``flooded``, ``agm`` or ``lifepo4``.

    Raises
    ------
    InvalidInput
        If the table has no such chemistry; names those it has.
    """
    for row in chemistries():
        if row.key == key:
            return row
    known = ", ".join(row.key for row in chemistries())
    raise InvalidInput("chemistry", key, f"use one of {known}")


def emf_v(chemistry_key: str, charge_share: float) -> float:
    """Return the resting voltage of a 12 V battery. [V]

    Parameters
    ----------
    chemistry_key : str
        ``flooded``, ``agm`` or ``lifepo4``.
    charge_share : float
        State of charge, 0 to 1.

    Raises
    ------
    InvalidInput
        If the chemistry is unknown or the share is not from 0 to 1.

    Notes
    -----
    Straight between the points of the table; sources differ by 0.1 V.

    References
    ----------
    bci-ocv; lfp-ocv.
    """
    key = chemistry(chemistry_key).key
    if not 0 <= charge_share <= 1:
        raise InvalidInput("charge_share", charge_share, "give a share from 0 to 1")
    points = _points(key)
    for (low, low_v), (high, high_v) in pairwise(points):
        if charge_share <= high:
            return low_v + (high_v - low_v) * (charge_share - low) / (high - low)
    return points[-1][1]


def supply_v(key: str, nominal_v: int = 12) -> float:
    """Return a voltage of a vehicle's supply, engine off or running. [V]

    Parameters
    ----------
    key : str
        ``resting``, ``running``, ``idle``, ``low``, ``high``, ``managed_low`` or
        ``managed_high``: the stated defaults ``supply.12.running_v`` and so on.
    nominal_v : int
        12 or 24. [V]

    Raises
    ------
    InvalidInput
        If nothing is stated for that key.

    References
    ----------
    bci-ocv; iso-16750-2; alternator-articles.
    """
    row = default(f"supply.{nominal_v}.{key}_v")
    return read_voltage_v(row.value_text, row.key)


def supply_resistance_ohm(nominal_v: int = 12) -> float:
    """Return the source resistance at the battery posts, an assumption. [ohm]"""
    row = default(f"supply.{nominal_v}.resistance_ohm")
    return read_resistance_ohm(row.value_text, row.key)


@cache
def _points(key: str) -> tuple[tuple[float, float], ...]:
    rows = read_rows(PACKAGE, "battery_emfs", EmfPoint)
    return tuple(
        sorted((row.charge_percent / 100, row.emf_v) for row in rows if row.chemistry == key)
    )
