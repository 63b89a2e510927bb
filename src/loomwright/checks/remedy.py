"""What would mend it: the wire size, the fuse rating, or the joint to make again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.checks.words import listed
from loomwright.electrics.answers import ConductorAnswer, Rung
from loomwright.quantities import Units, WireSize, show_length, show_voltage
from loomwright.reference.ampacity import ampacity_a
from loomwright.reference.conductors import area_mm2, insulation, resistance_ohm_per_m, sizes

HANDY_SHARE = 0.42
"""No wire is asked to drop to less than this share of what it does now: two sizes more."""

MOST_WIRES = 3
"""So many conductors are named at most: more is a rewiring."""

REMADE_SAVES = 0.8
"""Share of its drop that a joint loses when it is made again. Assumption."""

WORTH_REMAKING_V = 0.05

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
        thick_enough = area_mm2(other) >= area_mm2(size)
        if thick_enough and ampacity_a(other, insulation_c) * bundle_share >= current_a:
            return other
    return None


def alone_a(wire: ConductorAnswer) -> float:
    """Return what a wire carries for hours alone in air, out of its bundle. [A]"""
    part = wire.part
    if part.size is None or part.insulation is None:
        return wire.ampacity_a
    return ampacity_a(part.size, insulation(part.insulation).max_c)


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
    The wires that drop most are made thicker, as few as will do with two sizes more; a drop is
    proportional to a wire's resistance. Where that is not enough, or joints drop more than the
    wires, the worst joints are made again as well, which is taken to save most of their drop.
    """
    wires, joints = _wires(rungs), _joints(rungs)
    saved_v = REMADE_SAVES * sum(joint.drop_v for joint in joints)
    if sum(joint.drop_v for joint in joints) > sum(wire.drop_v for wire in wires):
        rest = _thicker(wires, excess_v - saved_v, units) if excess_v > saved_v else ""
        return _both(_remake(joints), rest)
    alone = _thicker(wires, excess_v, units)
    if alone:
        return alone
    rest = _thicker(wires, excess_v - saved_v, units) or _as_thick_as_handy(wires, units)
    return _both(rest, _remake(joints))


@dataclass(frozen=True, slots=True)
class Stretch:
    """A conductor on the way, its pieces between taps taken together."""

    place: str
    size: WireSize
    length_m: float
    drop_v: float


def _wires(rungs: Sequence[Rung]) -> list[Stretch]:
    """Conductors by what they drop, the worst first."""
    pieces: dict[tuple[str, WireSize], list[Rung]] = {}
    for rung in rungs:
        if rung.part.kind == "wire" and rung.part.size is not None and rung.drop_v > 0:
            pieces.setdefault((rung.part.ref, rung.part.size), []).append(rung)
    found = [
        Stretch(
            _place(each),
            size,
            sum(rung.part.length_m or 0.0 for rung in each),
            sum(rung.drop_v for rung in each),
        )
        for (_, size), each in pieces.items()
    ]
    return sorted(found, key=lambda wire: wire.drop_v, reverse=True)


def _place(pieces: Sequence[Rung]) -> str:
    """Return the words of the first piece, without the stretch it covers where there are more."""
    words = pieces[0].part.place.split(", ")
    return ", ".join(words[:2] if len(pieces) > 1 else words)


def _joints(rungs: Sequence[Rung]) -> list[Rung]:
    """The two worst joints and contacts that are worth making again."""
    found = [
        rung
        for rung in rungs
        if rung.part.kind in ("joint", "contact") and rung.drop_v >= WORTH_REMAKING_V
    ]
    return sorted(found, key=lambda rung: rung.drop_v, reverse=True)[:2]


def _thicker(wires: Sequence[Stretch], excess_v: float, units: Units) -> str:
    """Return which few wires to make thicker to save so much, or nothing if they cannot."""
    for count in range(1, min(len(wires), MOST_WIRES) + 1):
        share = 1 - excess_v / sum(wire.drop_v for wire in wires[:count])
        if HANDY_SHARE <= share < 1:
            return _run(wires[:count], share, units)
    return ""


def _as_thick_as_handy(wires: Sequence[Stretch], units: Units) -> str:
    return _run(wires[:MOST_WIRES], HANDY_SHARE, units) if wires else ""


def _run(wires: Sequence[Stretch], share: float, units: Units) -> str:
    return f"Run {listed([_one_thicker(wire, share, units) for wire in wires])}."


def _one_thicker(wire: Stretch, share: float, units: Units) -> str:
    wanted = size_with_share(wire.size, share)
    better = "two wires side by side" if wanted is None else str(wanted)
    long = f"{show_length(wire.length_m, units)} of " if wire.length_m else ""
    return f"{better} as {wire.place} ({long}{wire.size} drops {show_voltage(wire.drop_v)})"


def _remake(joints: Sequence[Rung]) -> str:
    if not joints:
        return ""
    said = listed([f"{each.part.place} ({show_voltage(each.drop_v)})" for each in joints])
    return f"Clean or make again: {said}."


def _both(first: str, second: str) -> str:
    return " ".join(part for part in (first, second) if part)
