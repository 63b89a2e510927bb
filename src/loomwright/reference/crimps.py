"""Crimps: which barrel takes which wires, how to strip, how hard to pull, what sleeve."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.quantities import WireSize
from loomwright.reference.copper import PACKAGE, area_mm2, circular_mils
from loomwright.reference.insulation import insulated_diameter_mm
from loomwright.tables import read_rows

NEWTONS_PER_LBF = 4.4482216

SLIDE_ON = 1.2
"""A sleeve as supplied is at least that much wider than what it slides over."""

GRIP = 1.1
"""A sleeve recovered free is at least that much narrower than what it must grip."""


@dataclass(frozen=True, slots=True)
class Barrel:
    """A crimp barrel: colour of its insulation, wires printed on it, copper it takes."""

    key: str
    colour: str
    takes: str
    min_circular_mils: float
    max_circular_mils: float
    strip_mm: float
    note: str | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Tube:
    """A heat-shrink sleeve: diameter as supplied and when recovered free. [mm]"""

    ratio: str
    adhesive: bool
    supplied_mm: float
    recovered_mm: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Splice:
    """A butt splice for a joint: the kind, the barrel of each side, and what goes over it.

    `kind` is a key of the joint kinds: ``sealed-butt`` or ``step-down-butt``. `left` takes the
    thickest wire, `right` all the others; a plain butt has the same barrel twice.
    """

    kind: str
    left: Barrel
    right: Barrel
    left_wires: tuple[WireSize, ...]
    right_wires: tuple[WireSize, ...]
    sleeve: Tube | None
    says: str

    @property
    def colour(self) -> str:
        """Colour of the barrel, of the larger one in a step-down splice."""
        return max(self.left, self.right, key=lambda barrel: barrel.max_circular_mils).colour

    @property
    def takes(self) -> str:
        """Wires printed on the barrel, of both sides in a step-down splice."""
        ends = (self.left.takes, self.right.takes)
        return ends[0] if ends[0] == ends[1] else " to ".join(ends)

    @property
    def strip_mm(self) -> float:
        """Length of bare wire for the longer barrel. [mm]"""
        return max(self.left.strip_mm, self.right.strip_mm)


@dataclass(frozen=True, slots=True)
class PullRow:
    """Pull a crimp must stand for a minute, by gauge. [lbf]"""

    awg: str
    commercial_lbf: float
    military_lbf: float | None
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class NewCrimpDrop:
    """Largest drop of a new crimp at its test current, by gauge."""

    awg: str
    test_a: float
    max_mv: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class RingStuds:
    """Studs the ring terminals of a barrel colour are made for."""

    colour: str
    studs: tuple[str, ...]
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Stud:
    """A stud and its diameter. [mm]"""

    key: str
    diameter_mm: float
    source: str
    standing: str


def barrels() -> tuple[Barrel, ...]:
    """Return the barrels, smallest first."""
    return read_rows(PACKAGE, "crimp_barrels", Barrel)


def butt_range(colour: str) -> str:
    """Return the wires printed on a butt connector of this colour, such as ``16-14 AWG``.

    Raises
    ------
    InvalidInput
        If no butt connector has that colour.
    """
    return _barrel(colour).takes


def splice_for(sizes: Sequence[WireSize], insulation: str | None = None) -> Splice:
    """Return the butt splice that joins these wires.

    Parameters
    ----------
    sizes : sequence of WireSize
        Two wires or more. The thickest goes into one end, all the others into the other.
    insulation : str, optional
        Kind of insulation, for the sleeve; the usual kind of the size if left out.

    Raises
    ------
    InvalidInput
        If there are fewer than two wires, or an end holds less or more copper than any barrel.

    Notes
    -----
    Each end is chosen by the sum of circular mils in it, never by fit. Where one barrel takes
    both ends, the largest such is used: a blue one for two 16 gauge wires, since
    red is sold marked 22-16 and 22-18. Otherwise a step-down splice joins two barrels.

    References
    ----------
    circular-mil-splices; crimp-charts.
    """
    if len(sizes) < 2:
        raise InvalidInput("sizes", [str(size) for size in sizes], "name two wires or more")
    ordered = sorted(sizes, key=area_mm2, reverse=True)
    ends = (tuple(ordered[:1]), tuple(ordered[1:]))
    fits = [_barrels_for(end) for end in ends]
    both = [barrel for barrel in fits[0] if barrel in fits[1]]
    left, right = (both[-1], both[-1]) if both else (fits[0][-1], fits[1][-1])
    widest = max(_end_diameter_mm(end, insulation) for end in ends)
    narrowest = min(insulated_diameter_mm(size, insulation) for size in ordered)
    sleeve = _tube(widest, narrowest, adhesive=True)
    return Splice(
        "sealed-butt" if both else "step-down-butt", left, right, *ends, sleeve, _says(ends)
    )


def strip_length_mm(size: WireSize) -> float:
    """Return the length of bare wire for a crimp on this wire alone. [mm]"""
    return _barrels_for((size,))[-1].strip_mm


def pull_out_n(size: WireSize) -> float:
    """Return the pull a crimp on this wire must stand for one minute. [N]

    Notes
    -----
    The commercial column; a row in pounds force is turned into newtons here because the
    printed newtons of its 2/0 row are wrong. Other sizes take the gauge at or below their
    copper.

    Raises
    ------
    InvalidInput
        If the wire is thinner than any row.

    References
    ----------
    ul-486a.
    """
    area = area_mm2(size) * 1.001
    named = {"sae", "awg"} & {size.system}
    fitting: list[tuple[float, float]] = []
    for row in read_rows(PACKAGE, "pull_out", PullRow):
        if named and row.awg == size.size:
            return row.commercial_lbf * NEWTONS_PER_LBF
        row_area = area_mm2(WireSize("awg", row.awg))
        if row_area <= area:
            fitting.append((row_area, row.commercial_lbf))
    if not fitting:
        raise InvalidInput("size", str(size), "use a wire of 24 AWG (0.2 mm²) or more")
    return max(fitting)[1] * NEWTONS_PER_LBF


def new_crimp_ohm(size: WireSize) -> float:
    """Return the largest resistance of one new crimp on this wire. [ohm]

    The gauge at or below the wire's copper is read, and 4 AWG for all above. Source: mil-t-7928e.
    """
    area = area_mm2(size) * 1.001
    rows = read_rows(PACKAGE, "new_crimp_drops", NewCrimpDrop)
    fitting = [row for row in rows if area_mm2(WireSize("awg", row.awg)) <= area]
    row = fitting[-1] if fitting else rows[0]
    return row.max_mv / 1000 / row.test_a


def heat_shrink(
    diameter_mm: float, smallest_mm: float | None = None, *, adhesive: bool = True
) -> Tube:
    """Return the narrowest sleeve that slides over a part and grips the thinnest one.

    Parameters
    ----------
    diameter_mm : float
        Of the widest part it slides over. [mm]
    smallest_mm : float, optional
        Of the thinnest part it must grip; the same part if left out. [mm]
    adhesive : bool
        With an adhesive layer that seals, or without.

    Raises
    ------
    InvalidInput
        If no sleeve of the table does both.

    References
    ----------
    heat-shrink-sheets.
    """
    found = _tube(diameter_mm, diameter_mm if smallest_mm is None else smallest_mm, adhesive)
    if found is None:
        raise InvalidInput("diameter_mm", diameter_mm, "no sleeve does both: join in two steps")
    return found


def ring_studs(colour: str) -> tuple[str, ...]:
    """Return the studs that ring terminals of this colour are made for.

    Raises
    ------
    InvalidInput
        If the chart has no such colour.
    """
    rows = read_rows(PACKAGE, "ring_studs", RingStuds)
    for row in rows:
        if row.colour == colour:
            return row.studs
    raise InvalidInput("colour", colour, f"use one of {', '.join(row.colour for row in rows)}")


def stud_diameter_mm(stud: str) -> float:
    """Return the diameter of a stud, such as ``#10``, ``1/4 in`` or ``M6``. [mm]

    Raises
    ------
    InvalidInput
        If the table has no such stud.
    """
    rows = read_rows(PACKAGE, "studs", Stud)
    for row in rows:
        if row.key == stud:
            return row.diameter_mm
    raise InvalidInput("stud", stud, f"use one of {', '.join(row.key for row in rows)}")


def _barrel(colour: str) -> Barrel:
    for row in barrels():
        if row.colour == colour:
            return row
    known = ", ".join(dict.fromkeys(row.colour for row in barrels()))
    raise InvalidInput("colour", colour, f"use one of {known}")


def _barrels_for(wires: Sequence[WireSize]) -> list[Barrel]:
    copper = math.fsum(circular_mils(wire) for wire in wires)
    found = [
        barrel
        for barrel in barrels()
        if barrel.min_circular_mils <= copper <= barrel.max_circular_mils
    ]
    if not found:
        said = " + ".join(str(wire) for wire in wires)
        fix = f"no crimp barrel takes {copper:.0f} circular mils: join at a stud block"
        raise InvalidInput("sizes", said, fix)
    return found


def _end_diameter_mm(wires: Sequence[WireSize], insulation: str | None) -> float:
    return 1.2 * math.sqrt(
        math.fsum(insulated_diameter_mm(wire, insulation) ** 2 for wire in wires)
    )


def _tube(widest_mm: float, narrowest_mm: float, adhesive: bool) -> Tube | None:
    fitting = (
        tube
        for tube in read_rows(PACKAGE, "heat_shrink", Tube)
        if tube.adhesive == adhesive
        and tube.supplied_mm >= widest_mm * SLIDE_ON
        and tube.recovered_mm * GRIP <= narrowest_mm
    )
    return min(fitting, key=lambda tube: tube.supplied_mm, default=None)


def _says(ends: tuple[tuple[WireSize, ...], ...]) -> str:
    said = [
        f"{' + '.join(str(wire) for wire in end)}: "
        f"{math.fsum(circular_mils(wire) for wire in end):,.0f} circular mils"
        for end in ends
    ]
    return "; ".join(said)
