"""Resistances of the parts of a rig, from the reference tables."""

from __future__ import annotations

from typing import Final, Literal

from loomwright.reference.conductors import resistance_ohm_per_m
from loomwright.reference.fuses import resistance_ohm
from loomwright.reference.joints import joint
from loomwright.rig.model import FuseHolder, Wire

LEAST_OHM: Final = 1e-5
"""What stands for no resistance at all: 0.3 mV at 30 A. [ohm]"""

DRIVER_OHM: Final = 0.015
"""A lamp switch, relay contact or electronic driver, 5 to 30 milliohm. [ohm] Assumption."""


def wire_ohm(wire: Wire, temperature_c: float) -> float:
    """Resistance of a conductor, one way, at a temperature. [ohm]"""
    return max(resistance_ohm_per_m(wire.size, temperature_c) * wire.length_m, LEAST_OHM)


def joint_ohm(kind: str, age: Literal["new", "aged"]) -> float:
    """Resistance of a joint or contact, new or after years. [ohm]"""
    row = joint(kind)
    return max(row.new_ohm if age == "new" else row.aged_ohm, LEAST_OHM)


def fuse_ohm(holder: FuseHolder, state: Literal["cold", "hot"]) -> float:
    """Resistance of a fuse, cold or carrying its rating. [ohm]"""
    return resistance_ohm(holder.kind, holder.rating_a, 1.0 if state == "hot" else 0.0)
