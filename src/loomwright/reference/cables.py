"""Trailer cables by their make-up, and the size of a bundle of wires."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows


@dataclass(frozen=True, slots=True)
class CableRow:
    """A cable as the table holds it."""

    key: str
    title: str
    cores: tuple[str, ...]
    jacket_od_mm: float | None
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class TrailerCable:
    """A trailer cable: its cores, heaviest first as printed, and its diameter. [mm]"""

    key: str
    title: str
    cores: tuple[WireSize, ...]
    jacket_od_mm: float | None
    note: str | None
    source: str
    standing: str


def trailer_cables() -> tuple[TrailerCable, ...]:
    """Return every cable in the table."""
    return tuple(_cables().values())


def trailer_cable(key: str) -> TrailerCable:
    """Return a cable by its key.

    Raises
    ------
    InvalidInput
        If the table has no such cable; names those it has.
    """
    cables = _cables()
    if key not in cables:
        raise InvalidInput("cable", key, f"use one of {', '.join(cables)}")
    return cables[key]


def bundle_diameter_mm(diameters_mm: Sequence[float]) -> float:
    """Return the diameter of a round bundle of wires. [mm]

    Parameters
    ----------
    diameters_mm : sequence of float
        Over the insulation of each wire. [mm]

    Raises
    ------
    InvalidInput
        If there is no wire, or one has no diameter.

    Notes
    -----
    1.2 sqrt(sum of d²), within 6 % of published factors for three equal wires or more; two
    wires lie side by side.

    References
    ----------
    bundle-factors.
    """
    if not diameters_mm or not all(each > 0 for each in diameters_mm):
        raise InvalidInput("diameters_mm", diameters_mm, "give at least one diameter above 0")
    if len(diameters_mm) <= 2:
        return math.fsum(diameters_mm)
    return 1.2 * math.sqrt(math.fsum(each**2 for each in diameters_mm))


@cache
def _cables() -> dict[str, TrailerCable]:
    return {row.key: _read(row) for row in read_rows(PACKAGE, "trailer_cables", CableRow)}


def _read(row: CableRow) -> TrailerCable:
    cores: list[WireSize] = []
    for text in row.cores:
        count, _, size, unit = text.split()
        core = WireSize("awg", size) if unit == "AWG" else WireSize("mm2", size)
        cores += [core] * int(count)
    return TrailerCable(
        row.key, row.title, tuple(cores), row.jacket_od_mm, row.note, row.source, row.standing
    )
