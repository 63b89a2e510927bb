"""What would mend it: the wire size, the fuse rating, or the joint to make again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from loomwright.checks.words import listed
from loomwright.electrics.answers import ConductorAnswer, Rung
from loomwright.quantities import Units, WireSize, show_length, show_voltage
from loomwright.reference.ampacity import ampacity_a
from loomwright.reference.conductors import area_mm2, insulation, resistance_ohm_per_m, sizes
from loomwright.reference.joints import joint

HANDY_SHARE = 0.42
"""No wire is asked to drop to less than this share of what it does now: two sizes more."""

MOST_WIRES = 3
"""So many conductors are changed at most: more is a rewiring."""

MOST_PARTS = 2
"""So many parts are named in one instruction."""

WORTH_REMAKING = 1.5
"""A joint is made again only if it has this many times the resistance of a new one."""

MARGIN_V = 0.2
"""A mend should leave so much in hand: one that only just passes is none for long."""

WORTH_SAVING_V = 0.05
"""A part that would save less is not named."""

HARDLY_V = 0.05
"""A drop under this is told as such: no meter of the shop tells it apart."""

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


@dataclass(frozen=True, slots=True)
class Offer:
    """A part that could be better: where it is, what it drops and what it would drop. [V]

    `size` is the wire to run instead of `old`; a joint has neither.
    """

    ref: str
    place: str
    drop_v: float
    then_v: float
    length_m: float = 0.0
    old: WireSize | None = None
    size: WireSize | None = None

    @property
    def saves_v(self) -> float:
        """What the mend gives. [V]"""
        return self.drop_v - self.then_v


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

    Returns
    -------
    str
        One or two parts to better, each with its drop before and after; empty if none is worth
        it. Drops after are in proportion to resistance: a little less than the truth, for what
        is saved also drives more current.

    Notes
    -----
    One part that is enough goes before two, and what is enough with something in hand before what
    only just is; then the least copper, so a bad joint goes before a wire. Where no two are enough
    the two that give most are named, and that they are not enough.
    """
    for count in range(1, MOST_PARTS + 1):
        for wanted_v in (excess_v + MARGIN_V, excess_v):
            enough = list(_enough(_offers(rungs, wanted_v), wanted_v, count))
            if enough:
                return _said(min(enough, key=_cost), units)
    offers = _offers(rungs, excess_v)
    by_part = {each.ref: each for each in sorted(offers, key=lambda each: each.saves_v)}
    best = sorted(by_part.values(), key=lambda each: each.saves_v, reverse=True)[:MOST_PARTS]
    rest_v = excess_v - _saves_v(best)
    more = f" {show_voltage(rest_v)} more must go: read the drop part by part." if best else ""
    return _said(best, units) + more


def _enough(offers: Iterable[Offer], wanted_v: float, count: int) -> Iterator[tuple[Offer, ...]]:
    """Yield the choices of so many parts that together save what is wanted."""
    for each in combinations(offers, count):
        if _saves_v(each) >= wanted_v and len({offer.ref for offer in each}) == count:
            yield each


def culprit(rungs: Sequence[Rung], excess_v: float) -> str:
    """Return the reference of the part that a mend would give most at, or nothing."""
    best = max(_offers(rungs, excess_v), key=lambda each: each.saves_v, default=None)
    return "" if best is None else best.ref


def _saves_v(offers: Sequence[Offer]) -> float:
    return sum(each.saves_v for each in offers)


def _cost(offers: Sequence[Offer]) -> float:
    """Copper to buy, metres times square millimetres; a joint costs a little work."""
    return sum(0.1 + each.length_m * (area_mm2(each.size) if each.size else 0.0) for each in offers)


def _offers(rungs: Sequence[Rung], excess_v: float) -> Iterator[Offer]:
    for each in (*_wires(rungs, excess_v), *_joints(rungs)):
        if each.saves_v >= min(WORTH_SAVING_V, excess_v):
            yield each


def _wires(rungs: Sequence[Rung], excess_v: float) -> Iterator[Offer]:
    """Offer for each conductor, its pieces taken together, the size that is enough or handy."""
    pieces: dict[tuple[str, WireSize], list[Rung]] = {}
    for rung in rungs:
        if rung.part.kind == "wire" and rung.part.size is not None and rung.drop_v > 0:
            pieces.setdefault((rung.part.ref, rung.part.size), []).append(rung)
    for (ref, size), each in pieces.items():
        drop_v = sum(rung.drop_v for rung in each)
        for share in dict.fromkeys((max(1 - excess_v / drop_v, HANDY_SHARE), HANDY_SHARE)):
            wanted = size_with_share(size, share)
            if wanted is not None:
                then_v = drop_v * resistance_ohm_per_m(wanted) / resistance_ohm_per_m(size)
                long_m = sum(rung.part.length_m or 0.0 for rung in each)
                yield Offer(ref, _place(each), drop_v, then_v, long_m, size, wanted)


def _place(pieces: Sequence[Rung]) -> str:
    """Return the words of the first piece, without the stretch it covers where there are more."""
    words = pieces[0].part.place.split(", ")
    return ", ".join(words[:2] if len(words) > 1 and "behind" in words[-1] else words)


def _joints(rungs: Sequence[Rung]) -> Iterator[Offer]:
    """Offer each joint and contact that is worse than a new one of its kind."""
    for rung in rungs:
        part = rung.part
        if part.kind in ("joint", "contact") and part.joint_kind and rung.resistance_ohm > 0:
            new_ohm = good_ohm(part.joint_kind)
            if rung.resistance_ohm > WORTH_REMAKING * new_ohm:
                then_v = rung.drop_v * new_ohm / rung.resistance_ohm
                yield Offer(part.ref + part.element, part.place, rung.drop_v, then_v)


def good_ohm(kind: str) -> float:
    """Return the resistance of what is made instead of a joint: a new one, of a sound kind. [ohm]

    Bad kinds are replaced, not cleaned: a ring over paint by one on bright metal, a twist-on
    connector or a piercing tap by a sealed butt.
    """
    return joint(MADE_INSTEAD.get(kind, kind)).new_ohm


MADE_INSTEAD = {
    "ring-terminal-painted": "ring-terminal",
    "hitch-ball": "ring-terminal",
    "frame-screw": "ring-terminal",
    "wire-nut": "sealed-butt",
    "piercing-tap": "sealed-butt",
    "butt": "sealed-butt",
}


def _said(offers: Sequence[Offer], units: Units) -> str:
    said = []
    joints = [f"{each.place} ({_gain(each)})" for each in offers if each.size is None]
    if joints:
        said.append(f"Make anew: {listed(joints)}.")
    return " ".join([*said, *(_run(each, units) for each in offers if each.size is not None)])


def _gain(offer: Offer) -> str:
    small = offer.then_v < HARDLY_V
    then = f"under {show_voltage(HARDLY_V)}" if small else show_voltage(offer.then_v)
    return f"{then} instead of {show_voltage(offer.drop_v)}"


def _run(offer: Offer, units: Units) -> str:
    long = f" ({show_length(offer.length_m, units)})" if offer.length_m else ""
    return f"Run {offer.size} instead of {offer.old} as {offer.place}{long}: {_gain(offer)}."
