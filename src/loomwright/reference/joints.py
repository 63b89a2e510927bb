"""Joints and contacts: what each kind is, what it costs in ohms, new and aged.

Crimp choice stands in `crimps`, what goes round and along the wires in `routing`.
"""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.invalid import InvalidInput
from loomwright.reference.copper import PACKAGE
from loomwright.reference.crimps import (
    Barrel,
    Splice,
    Tube,
    butt_range,
    heat_shrink,
    new_crimp_ohm,
    pull_out_n,
    ring_studs,
    splice_for,
    strip_length_mm,
    stud_diameter_mm,
)
from loomwright.reference.routing import (
    Clearance,
    Grommet,
    Loom,
    bend_radius_mm,
    clearance,
    clearances,
    grommet_for,
    loom_for,
    support_spacing_mm,
)
from loomwright.tables import read_rows

__all__ = [
    "Barrel",
    "Clearance",
    "Grommet",
    "JointKind",
    "Loom",
    "Splice",
    "Tube",
    "bend_radius_mm",
    "butt_range",
    "clearance",
    "clearances",
    "grommet_for",
    "heat_shrink",
    "joint",
    "joints",
    "loom_for",
    "new_crimp_ohm",
    "pull_out_n",
    "ring_studs",
    "splice_for",
    "strip_length_mm",
    "stud_diameter_mm",
    "support_spacing_mm",
]


@dataclass(frozen=True, slots=True)
class JointKind:
    """A kind of joint: resistance new and after years, and whether it may stand in the wet.

    Aged figures are working assumptions, as the standing and source of the row say. [ohm]
    """

    key: str
    title: str
    wet_ok: bool
    new_ohm: float
    aged_ohm: float
    note: str
    source: str
    standing: str


def joints() -> tuple[JointKind, ...]:
    """Return every kind of joint and contact in the table."""
    return read_rows(PACKAGE, "joint_kinds", JointKind)


def joint(kind: str) -> JointKind:
    """Return a kind of joint by its key, such as ``sealed-butt`` or ``socket-contact``.

    Raises
    ------
    InvalidInput
        If the table has no such kind; names those it has.
    """
    for row in joints():
        if row.key == kind:
            return row
    raise InvalidInput("joint", kind, f"use one of {', '.join(row.key for row in joints())}")
