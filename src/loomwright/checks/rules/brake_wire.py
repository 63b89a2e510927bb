"""BRAK03: the brake wire is thinner than usual for so many magnets."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import listed, plural
from loomwright.quantities import WireSize, show_length
from loomwright.reference.brakes import least_brake_wire
from loomwright.reference.conductors import area_mm2
from loomwright.rig.model import Braking, Rig

CODE = "BRAK03"
SOURCE = "brake-wire-table"
NEAR_ENOUGH = 0.88
"""Vehicle wire of a gauge holds up to 11 % less copper than AWG: it counts as that gauge."""


def brake_wire_thin(work: Work) -> Iterator[Finding]:
    """Flag the brake conductors on the trailer that are thinner than the usual least.

    12 AWG for two or four magnets to 30 ft, 10 AWG to 50 ft; 10 and 8 AWG for six. The cord and
    the run are looked at, and the distance is that of the farthest magnet.
    """
    trailer = work.rig.trailer
    if trailer.braking is not Braking.ELECTRIC or not trailer.brakes:
        return
    far_m = max(brake.back_m for brake in trailer.brakes)
    row = least_brake_wire(len(trailer.brakes), far_m)
    if row is None:
        return
    least = WireSize("awg", row.awg)
    thin = [
        (place, size)
        for place, size in _conductors(work.rig)
        if area_mm2(size) < NEAR_ENOUGH * area_mm2(least)
    ]
    if not thin:
        return
    said = listed([f"{place} has {size}" for place, size in thin])
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where=f"brake wire: {listed([place for place, _ in thin])}",
        says=f"For {plural(len(trailer.brakes), 'magnet')} up to "
        f"{show_length(far_m, work.rig.units)} behind the junction {least} is the least: {said}.",
        why="Thin brake wire costs voltage at the far axle and warms on a long hill.",
        fix=f"Run {least} or thicker from the hitch to the axles, and a ground to match.",
        source=row.source,
        station="run",
        standing=row.standing,
    )


def _conductors(rig: Rig) -> Iterator[tuple[str, WireSize]]:
    cord = rig.trailer.cord_wire_for("brake")
    if cord is not None:
        yield "cord", cord.wire.size
    if "brake" in rig.trailer.run:
        yield "run", rig.trailer.run["brake"]


RULE = Rule(CODE, "Brake wire thinner than usual", SOURCE, brake_wire_thin)
