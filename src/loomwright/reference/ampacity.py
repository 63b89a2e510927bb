"""Current a wire may carry for hours, by its insulation and by its neighbours."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from functools import cache
from itertools import pairwise

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.copper import PACKAGE, area_mm2
from loomwright.tables import read_rows


@dataclass(frozen=True, slots=True)
class AmpacityRow:
    """Allowable amperes of one gauge by insulation class, in air of 30 °C. [A]"""

    awg: str
    c60_a: float
    c75_a: float
    c80_a: float
    c90_a: float
    c105_a: float
    c125_a: float
    c200_a: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class BundleFactor:
    """Share of its ampacity a wire keeps with this many loaded wires in the bundle or more."""

    conductors_min: int
    factor: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class EngineSpaceFactor:
    """Share of its ampacity a wire keeps in an engine space of 50 °C."""

    insulation_c: float
    factor: float
    source: str
    standing: str


def ampacity_a(
    size: WireSize, insulation_c: float = 105, bundled: int = 1, engine_space: bool = False
) -> float:
    """Return the current a conductor may carry continuously. [A]

    Parameters
    ----------
    size : WireSize
        The conductor, up to the copper of 4/0 AWG.
    insulation_c : float
        What the insulation stands, 60 or more; the class at or below it is read. [°C]
    bundled : int
        Loaded conductors in the same bundle, itself counted.
    engine_space : bool
        Whether it runs in an engine space of 50 °C; the table is for 30 °C.

    Raises
    ------
    InvalidInput
        If the conductor or the insulation is outside the table.

    Notes
    -----
    AWG sizes are read. Other sizes are read between the two AWG rows beside them in copper,
    straight in area, which lies below the true curve, and rounded down to a whole ampere;
    under 18 AWG in proportion to copper. Bundle and engine factors multiply.

    References
    ----------
    cfr-33-183-425: Table 5 and its notes; ul-1426-bundles.
    """
    if bundled < 1:
        raise InvalidInput("bundled", bundled, "count the conductor itself: 1 or more")
    insulation_class = _class_at_or_below(insulation_c)
    alone = _in_free_air_a(size, insulation_class)
    engine = _engine_space_factor(insulation_class) if engine_space else 1.0
    return alone * bundle_factor(bundled) * engine


def bundle_factor(bundled: int) -> float:
    """Return the share of its ampacity a conductor keeps among so many loaded ones."""
    rows = read_rows(PACKAGE, "bundle_ampacity_factors", BundleFactor)
    kept = [row.factor for row in rows if bundled >= row.conductors_min]
    return kept[-1] if kept else 1.0


@cache
def _classes() -> tuple[int, ...]:
    columns = (field.name for field in fields(AmpacityRow))
    return tuple(int(name[1:-2]) for name in columns if name.endswith("_a"))


def _class_at_or_below(insulation_c: float) -> int:
    reached = [each for each in _classes() if each <= insulation_c]
    if not reached:
        raise InvalidInput("insulation_c", insulation_c, "use insulation for 60 °C or more")
    return reached[-1]


@cache
def _column(insulation_class: int) -> tuple[tuple[str, float, float], ...]:
    rows = read_rows(PACKAGE, "ampacities", AmpacityRow)
    name = f"c{insulation_class}_a"
    return tuple(
        (row.awg, area_mm2(WireSize("awg", row.awg)), float(getattr(row, name))) for row in rows
    )


def _in_free_air_a(size: WireSize, insulation_class: int) -> float:
    column = _column(insulation_class)
    if size.system == "awg":
        for awg, _, current_a in column:
            if awg == size.size:
                return current_a
    area = area_mm2(size)
    _, least, least_a = column[0]
    if area <= least:
        return math.floor(least_a * area / least * 2) / 2
    for (_, thin, thin_a), (_, thick, thick_a) in pairwise(column):
        if area <= thick:
            return math.floor(thin_a + (thick_a - thin_a) * (area - thin) / (thick - thin))
    fix = "use 4/0 AWG (107 mm²) or less, or several wires"
    raise InvalidInput("size", str(size), fix)


def _engine_space_factor(insulation_class: int) -> float:
    rows = read_rows(PACKAGE, "engine_space_factors", EngineSpaceFactor)
    return next(row.factor for row in rows if row.insulation_c == insulation_class)
