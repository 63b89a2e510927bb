"""What holds and guards a run of wires: loom, grommets, clips, clearances, bends."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.tables import read_rows

MM_PER_IN = 25.4

LOOM_OVER_BUNDLE = 1.25
"""Inside diameter over that of the bundle. Source: faa-ac-43-13-1b: pars 11-248 to 11-252."""


@dataclass(frozen=True, slots=True)
class Loom:
    """A split loom by its trade size. [mm]"""

    key: str
    inside_mm: float
    outside_mm: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class GrommetRow:
    """A grommet as sold: what passes through and the hole it sits in. [in]"""

    cable_in: float
    hole_in: float
    panel: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Grommet:
    """A grommet: largest cable, hole to drill [mm], the hole as the drill says it, the panel."""

    cable_mm: float
    hole_mm: float
    hole_in: float
    panel: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Support:
    """A rule on how far apart clips may be. [mm]"""

    key: str
    max_mm: float
    says: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Clearance:
    """A least distance of wires from something. [mm]"""

    key: str
    min_mm: float
    says: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class BendRadius:
    """Least bend radius as times the diameter, for cables over a diameter. [mm]"""

    over_od_mm: float
    times_od: float
    says: str
    source: str
    standing: str


def loom_for(bundle_mm: float) -> Loom:
    """Return the smallest split loom for a bundle: its inside 25 % wider than the bundle.

    Parameters
    ----------
    bundle_mm : float
        Diameter of the bundle. [mm]

    Raises
    ------
    InvalidInput
        If no loom of the table is wide enough.

    References
    ----------
    loom-sizes; faa-ac-43-13-1b: pars 11-248 to 11-252.
    """
    rows = sorted(read_rows(PACKAGE, "looms", Loom), key=lambda row: row.inside_mm)
    for row in rows:
        if row.inside_mm >= bundle_mm * LOOM_OVER_BUNDLE:
            return row
    raise InvalidInput("bundle_mm", bundle_mm, "split the bundle: no loom is wide enough")


def grommet_for(cable_mm: float) -> Grommet:
    """Return the smallest grommet a cable passes through, and the hole it needs.

    Parameters
    ----------
    cable_mm : float
        Diameter of the cable or bundle. [mm]

    Raises
    ------
    InvalidInput
        If no grommet of the table is wide enough.

    Notes
    -----
    Common sizes of the trade for a sheet of 1/16 in: check the groove of the grommet in hand.
    """
    for row in read_rows(PACKAGE, "grommets", GrommetRow):
        inside_mm = row.cable_in * MM_PER_IN
        if inside_mm >= cable_mm:
            hole_mm = row.hole_in * MM_PER_IN
            return Grommet(inside_mm, hole_mm, row.hole_in, row.panel, row.source, row.standing)
    raise InvalidInput("cable_mm", cable_mm, "pass the wires through two holes, or a gland")


def support_spacing_mm(place: str = "under-vehicle") -> float:
    """Return the largest distance between clips. [mm]

    Parameters
    ----------
    place : str
        Key of the support table: ``under-vehicle``, ``trailer-frame``, ...

    Raises
    ------
    InvalidInput
        If the table has no such place.
    """
    rows = read_rows(PACKAGE, "supports", Support)
    for row in rows:
        if row.key == place:
            return row.max_mm
    raise InvalidInput("place", place, f"use one of {', '.join(row.key for row in rows)}")


def clearances() -> tuple[Clearance, ...]:
    """Return every least distance of wires from other things."""
    return read_rows(PACKAGE, "clearances", Clearance)


def clearance(key: str) -> Clearance:
    """Return a least distance by its key, such as ``exhaust``.

    Raises
    ------
    InvalidInput
        If the table has no such key.
    """
    for row in clearances():
        if row.key == key:
            return row
    known = ", ".join(row.key for row in clearances())
    raise InvalidInput("clearance", key, f"use one of {known}")


def bend_radius_mm(od_mm: float) -> float:
    """Return the least bend radius of a cable by its diameter. [mm] Source: en-50525-2-31."""
    if not od_mm > 0:
        raise InvalidInput("od_mm", od_mm, "give the cable's diameter, above 0 mm")
    rows = read_rows(PACKAGE, "bend_radii", BendRadius)
    return next(row.times_od for row in reversed(rows) if od_mm > row.over_od_mm) * od_mm
