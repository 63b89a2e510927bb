"""What would mend it: the wire size, the fuse rating, or the joint to make again."""

from __future__ import annotations

from collections.abc import Sequence

from loomwright.checks.words import listed
from loomwright.electrics.answers import Rung
from loomwright.quantities import Units, WireSize, show_length, show_voltage
from loomwright.reference.ampacity import ampacity_a
from loomwright.reference.conductors import area_mm2, insulation, resistance_ohm_per_m, sizes
from loomwright.reference.copper import OFFERED

LEAST_SHARE = 0.15
"""No wire is asked to drop less than this share of what it does now: look elsewhere instead."""

DEFAULT_INSULATION_C = 80.0


def size_with_share(size: WireSize, share: float) -> WireSize | None:
    """Return the smallest size with at most this share of the resistance of `size`."""
    most = share * resistance_ohm_per_m(size)
    offered = sizes(size.system)
    return next((other for other in offered if resistance_ohm_per_m(other) <= most), None)


def size_carrying(
    size: WireSize, current_a: float, kind: str | None, bundle_share: float = 1.0
) -> WireSize | None:
    """Return the smallest size from `size` on that carries a current in the same bundle.

    Parameters
    ----------
    size : WireSize
        The wire there is; its system is kept.
    current_a : float
        Current to carry for hours. [A]
    kind : str or None
        Key of the insulation.
    bundle_share : float
        Share of its ampacity a wire keeps in this bundle.
    """
    insulation_c = DEFAULT_INSULATION_C if kind is None else insulation(kind).max_c
    for other in sizes(size.system):
        if area_mm2(other) < area_mm2(size) or other.size not in OFFERED[size.system]:
            continue
        if ampacity_a(other, insulation_c) * bundle_share >= current_a:
            return other
    return None


def less_drop(rungs: Sequence[Rung], excess_v: float, units: Units) -> str:
    """Return the instruction that takes so much off the drop of these parts.

    Parameters
    ----------
    rungs : sequence of Rung
        The parts of one side, as they share the drop.
    excess_v : float
        What must go. [V]
    units : Units
        How lengths are shown.

    Notes
    -----
    The wires that drop most are made thicker, as few as will do; a drop is proportional to a
    wire's resistance. Where joints drop more than the wires, the worst joints are made again.
    """
    wires = _by_drop(rungs, "wire")
    joints = _by_drop(rungs, "joint", "contact", "fuse", "switch")
    if _sum(joints) > _sum(wires):
        return _remake(joints)
    for count in range(1, len(wires) + 1):
        share = 1 - excess_v / _sum(wires[:count]) if _sum(wires[:count]) else 0.0
        if share >= LEAST_SHARE:
            return _thicker(wires[:count], share, units)
    return " ".join(part for part in (_thicker(wires[:2], 0.5, units), _remake(joints)) if part)


def _by_drop(rungs: Sequence[Rung], *kinds: str) -> list[Rung]:
    found = [rung for rung in rungs if rung.part.kind in kinds and rung.drop_v > 0]
    return sorted(found, key=lambda rung: rung.drop_v, reverse=True)


def _sum(rungs: Sequence[Rung]) -> float:
    return sum(rung.drop_v for rung in rungs)


def _thicker(wires: Sequence[Rung], share: float, units: Units) -> str:
    said = [words for wire in wires if (words := _one_thicker(wire, share, units))]
    return f"Run {listed(said)}." if said else ""


def _one_thicker(rung: Rung, share: float, units: Units) -> str:
    size, length_m = rung.part.size, rung.part.length_m
    if size is None:
        return ""
    wanted = size_with_share(size, share)
    better = "two wires side by side" if wanted is None else str(wanted)
    long = "" if length_m is None else f"{show_length(length_m, units)} of "
    return f"{better} as {rung.part.place} ({long}{size} drops {show_voltage(rung.drop_v)})"


def _remake(joints: Sequence[Rung]) -> str:
    if not joints:
        return ""
    said = listed([f"{each.part.place} ({show_voltage(each.drop_v)})" for each in joints[:2]])
    return f"Clean or make again: {said}."
