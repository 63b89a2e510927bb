"""Insulation of a conductor: what heat it stands, how thick it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.copper import PACKAGE, area_mm2
from loomwright.tables import read_rows

MM_PER_IN = 25.4

STRAND_PACKING = 1.15
"""A stranded conductor is that much thicker than a solid one of the same copper."""

COPPER_ZERO_C = 234.5
"""Below zero, where the straight line of copper's resistance meets zero. Source: iec-60949."""

COPPER_HEATING = 226.0
"""Of the short-circuit formula, for copper. [A s^0.5 / mm²] Source: iec-60949."""

DEFAULT_KINDS = {"awg": "GXL", "sae": "GXL", "mm2": "thin-wall"}


@dataclass(frozen=True, slots=True)
class InsulationKind:
    """A kind of insulation: material, range in use and end of a short circuit. [°C]"""

    key: str
    title: str
    material: str
    min_c: float | None
    max_c: float
    short_circuit_c: float
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class InsulatedDiameter:
    """Diameter over the insulation, in the unit the sheet prints; `largest` or `nominal`."""

    kind: str
    size: str
    od_in: float | None
    od_mm: float | None
    printed_as: str
    source: str
    standing: str


def insulations() -> tuple[InsulationKind, ...]:
    """Return every kind of insulation in the table."""
    return read_rows(PACKAGE, "insulations", InsulationKind)


def insulation(kind: str) -> InsulationKind:
    """Return a kind of insulation by its letters, in any case.

    Raises
    ------
    InvalidInput
        If the table has no such kind; names those it has.
    """
    for row in insulations():
        if row.key.casefold() == kind.strip().casefold():
            return row
    known = ", ".join(row.key for row in insulations())
    raise InvalidInput("insulation", kind, f"use one of {known}")


def insulated_diameter_mm(size: WireSize, kind: str | None = None) -> float:
    """Return the diameter over the insulation. [mm]

    Parameters
    ----------
    size : WireSize
        The conductor.
    kind : str, optional
        Key of an insulation; GXL for AWG and SAE sizes and thin-wall for metric ones if
        left out.

    Raises
    ------
    InvalidInput
        If the size or the kind is unknown.

    Notes
    -----
    Between two rows of the table the diameter grows evenly with the diameter of the copper;
    outside them the wall of the last row is kept. Kinds without rows of their own use those
    of the same wall: TWP, GPTM, SGT, SGX and cord as GPT. The sheets of GXL and thin-wall
    print largest diameters, the others nominal ones, within 5 %: measure where it matters.

    References
    ----------
    gxl-sheet; iso-6722-supplier; sae-j1128: wall table.
    """
    key = DEFAULT_KINDS[size.system] if kind is None else insulation(kind).key
    points = _diameters().get(key) or _diameters()["GPT"]
    copper_mm = 2 * math.sqrt(area_mm2(size) / math.pi)
    if copper_mm <= points[0][0]:
        return points[0][1] - STRAND_PACKING * (points[0][0] - copper_mm)
    for (thin, thin_od), (thick, thick_od) in pairwise(points):
        if copper_mm <= thick:
            return thin_od + (thick_od - thin_od) * (copper_mm - thin) / (thick - thin)
    return points[-1][1] + STRAND_PACKING * (copper_mm - points[-1][0])


def short_circuit_k(kind: str, start_c: float | None = None) -> float:
    """Return k of I²t <= k² S², for a short circuit of at most 5 s. [A s^0.5 / mm²]

    Parameters
    ----------
    kind : str
        Key of an insulation.
    start_c : float, optional
        Temperature of the copper before; the hottest the insulation stands if left out. [°C]

    Raises
    ------
    InvalidInput
        If the kind is unknown or the start is not below the end of the short circuit.

    References
    ----------
    iec-60949: k = 226 sqrt(ln((234.5 + end) / (234.5 + start))); iec-60364-5-54.
    """
    row = insulation(kind)
    start = row.max_c if start_c is None else start_c
    if not -COPPER_ZERO_C < start < row.short_circuit_c:
        fix = f"give a temperature below {row.short_circuit_c:g} °C"
        raise InvalidInput("start_c", start, fix)
    rise = (COPPER_ZERO_C + row.short_circuit_c) / (COPPER_ZERO_C + start)
    return COPPER_HEATING * math.sqrt(math.log(rise))


def withstand_a2s(size: WireSize, kind: str) -> float:
    """Return the I²t a wire stands without hurt to its insulation. [A² s]"""
    return (short_circuit_k(kind) * area_mm2(size)) ** 2


@cache
def _diameters() -> dict[str, tuple[tuple[float, float], ...]]:
    points: dict[str, list[tuple[float, float]]] = {}
    for row in read_rows(PACKAGE, "insulated_diameters", InsulatedDiameter):
        gauge, unit = row.size.split()
        area = area_mm2(WireSize("sae", gauge)) if unit == "SAE" else float(gauge)
        copper_mm = 2 * math.sqrt(area / math.pi)
        points.setdefault(row.kind, []).append((copper_mm, _printed_mm(row)))
    return {kind: tuple(sorted(rows)) for kind, rows in points.items()}


def _printed_mm(row: InsulatedDiameter) -> float:
    if row.od_mm is not None:
        return row.od_mm
    if row.od_in is not None:
        return row.od_in * MM_PER_IN
    raise ValueError(f"insulated_diameters.csv: {row.kind} {row.size} has no diameter")
