"""Copper of a conductor: area, resistance, standard sizes, circular mils."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Literal

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.tables import read_rows

PACKAGE = "loomwright.reference"

RESISTIVITY_20C_OHM_MM2_PER_M = 0.017241
"""Annealed copper at 20 C, 1/58. Source: iec-60028."""

TEMPERATURE_COEFFICIENT_PER_K = 0.00393
"""Of resistance about 20 C, constant mass. Source: copper-iacs."""

LAY_ALLOWANCE = 1.02
"""Strands are longer than the wire. NEC chapter 9 table 8 shows 1.018 to 1.025 for its
stranded rows over its solid rows. Source: nec-ch9-t8."""

MM2_PER_CIRCULAR_MIL = math.pi / 4 * 0.0254**2
"""Area of a circle of one thousandth of an inch. Source: astm-b258."""

LARGEST_CLASS5_ALLOWANCE = 1.157
"""Largest ratio of an IEC 60228 class 5 maximum to resistivity over area (1.5 and 2.5 mm2)."""

FEET_PER_M = 1 / 0.3048

OFFERED: dict[str, tuple[str, ...]] = {
    "awg": ("18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0"),
    "sae": ("18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0"),
    "mm2": ("0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10", "16", "25", "35", "50", "70"),
}


@dataclass(frozen=True, slots=True)
class SaeArea:
    """Least copper of a vehicle wire by SAE gauge. [circular mils]"""

    gauge: str
    circular_mils: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class MetricResistance:
    """Largest resistance at 20 C a metric conductor may have, and the table that says so."""

    area_mm2: float
    max_ohm_per_km: float
    table: str
    source: str
    standing: str


def area_mm2(size: WireSize) -> float:
    """Return the copper area of a conductor. [mm²]

    Parameters
    ----------
    size : WireSize
        AWG by the formula of ASTM B258; SAE by its table of circular mils, which holds 3 to
        11 % less copper than AWG of the same number; mm² as it stands.

    Raises
    ------
    InvalidInput
        If the gauge is none of the system.

    References
    ----------
    astm-b258; sae-j1127-areas.
    """
    readers: dict[str, Callable[[str], float]] = {
        "awg": _awg_mm2,
        "sae": _sae_mm2,
        "mm2": _nominal_mm2,
    }
    return readers[size.system](size.size)


def awg_diameter_mm(gauge: str) -> float:
    """Return the diameter of a solid wire by AWG. [mm] Source: astm-b258."""
    return float(0.127 * 92 ** ((36 - _awg_number(gauge)) / 39))


def circular_mils(size: WireSize) -> float:
    """Return the copper area of a conductor. [circular mils]"""
    return area_mm2(size) / MM2_PER_CIRCULAR_MIL


def resistance_ohm_per_m(size: WireSize, temperature_c: float = 20.0) -> float:
    """Return the resistance of a stranded copper conductor per metre of its own length. [ohm/m]

    Parameters
    ----------
    size : WireSize
        The conductor.
    temperature_c : float
        Of the copper, above -200. [°C]

    Raises
    ------
    InvalidInput
        If the size is unknown or the temperature is not one of copper wire.

    Notes
    -----
    AWG and SAE: resistivity over area with 2 % for the lay of the strands. Metric: the largest
    resistance IEC 60228 allows a class 5 conductor of that size (ISO 6722-1 for the sizes only
    it has), because a metric size is defined by that maximum and not by its area; a drop from
    it is never told too small. Metric areas in no table take the largest class 5 allowance,
    15.7 %. With temperature R = R20 (1 + 0.00393 (T - 20)), good from -40 to 125 °C.

    References
    ----------
    iec-60028; nec-ch9-t8; iec-60228; iso-6722-1.
    """
    if not -200 < temperature_c < 500:
        raise InvalidInput("temperature_c", temperature_c, "give the copper's temperature in °C")
    at_20c = _metric_ohm_per_m(size) if size.system == "mm2" else _gauge_ohm_per_m(size)
    return at_20c * (1 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_c - 20))


def sizes(system: Literal["awg", "sae", "mm2"]) -> tuple[WireSize, ...]:
    """Return the standard sizes offered when sizing, least copper first."""
    return tuple(WireSize(system, size) for size in OFFERED[system])


def next_size_up(size: WireSize) -> WireSize | None:
    """Return the smallest offered size of the same system with more copper, if there is one."""
    area = area_mm2(size)
    return next((other for other in sizes(size.system) if area_mm2(other) > area * 1.001), None)


def circular_mils_needed(
    current_a: float, loop_length_m: float, drop_v: float, k: float = 10.75
) -> float:
    """Return the copper that keeps the drop along a loop within bounds. [circular mils]

    Parameters
    ----------
    current_a : float
        Current. [A]
    loop_length_m : float
        Out and back. [m]
    drop_v : float
        Drop allowed along the loop. [V]
    k : float
        Ohms of a wire of one circular mil, per foot; 10.75 is copper at 29 °C, 11.2 at 40 °C.

    Raises
    ------
    InvalidInput
        If a value is not above 0.

    Notes
    -----
    CM = K I L / E with L in feet.

    References
    ----------
    abyc-e11-clauses: 11.14.2.6; wire-length-tables.
    """
    asked = {"current_a": current_a, "loop_length_m": loop_length_m, "drop_v": drop_v, "k": k}
    for field, value in asked.items():
        if not value > 0:
            raise InvalidInput(field, value, "give a value above 0")
    return k * current_a * loop_length_m * FEET_PER_M / drop_v


def smallest_by_circular_mils(
    needed: float, system: Literal["awg", "sae", "mm2"], among: Sequence[WireSize] | None = None
) -> WireSize | None:
    """Return the smallest size with at least this copper, or None if even the largest has less.

    Parameters
    ----------
    needed : float
        Copper, as from `circular_mils_needed`. [circular mils]
    system : {"awg", "sae", "mm2"}
        Of the sizes offered.
    among : sequence of WireSize, optional
        Sizes to choose from, least copper first; the standard sizes of the system if left out.
    """
    offered = sizes(system) if among is None else among
    return next((size for size in offered if circular_mils(size) >= needed), None)


def _awg_number(gauge: str) -> int:
    if gauge.endswith("/0") and gauge[:-2] in {"1", "2", "3", "4"}:
        return 1 - int(gauge[:-2])
    if gauge == "0":
        return 0
    if gauge.isdecimal() and 1 <= int(gauge) <= 40:
        return int(gauge)
    raise InvalidInput("size", f"{gauge} AWG", "use a gauge from 40 to 1 or 1/0 to 4/0")


def _awg_mm2(gauge: str) -> float:
    return math.pi / 4 * awg_diameter_mm(gauge) ** 2


def _sae_mm2(gauge: str) -> float:
    areas = _sae_areas()
    if gauge not in areas:
        known = ", ".join(areas)
        raise InvalidInput("size", f"{gauge} SAE", f"use one of {known}, or give AWG or mm²")
    return areas[gauge] * MM2_PER_CIRCULAR_MIL


def _nominal_mm2(area: str) -> float:
    try:
        value = float(area)
    except ValueError:
        value = math.nan
    if not 0 < value <= 1000:
        raise InvalidInput("size", f"{area} mm²", "give the copper area in mm², like 2.5 mm²")
    return value


@cache
def _sae_areas() -> dict[str, float]:
    rows = read_rows(PACKAGE, "sae_areas", SaeArea)
    for smaller, larger in pairwise(rows):
        if smaller.circular_mils >= larger.circular_mils:
            raise ValueError(f"sae_areas.csv: {larger.gauge} stands out of order")
    return {row.gauge: row.circular_mils for row in rows}


@cache
def _metric_maxima() -> dict[float, float]:
    rows = read_rows(PACKAGE, "metric_resistances", MetricResistance)
    return {row.area_mm2: row.max_ohm_per_km for row in rows}


def _gauge_ohm_per_m(size: WireSize) -> float:
    return RESISTIVITY_20C_OHM_MM2_PER_M * LAY_ALLOWANCE / area_mm2(size)


def _metric_ohm_per_m(size: WireSize) -> float:
    area = area_mm2(size)
    printed = _metric_maxima().get(area)
    if printed is not None:
        return printed / 1000
    return RESISTIVITY_20C_OHM_MM2_PER_M * LARGEST_CLASS5_ALLOWANCE / area
