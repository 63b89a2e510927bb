"""AWAY01: the breakaway battery is too small."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import plural
from loomwright.quantities import show_capacity, show_current
from loomwright.reference.brakes import breakaway_minutes, magnet
from loomwright.reference.limits import limit
from loomwright.rig.model import Breakaway, Rig

CODE = "AWAY01"
SOURCE = "dcmr-18-721; cfr-49-393-43"

OFFERED_AH = (5.0, 7.0, 9.0, 12.0, 18.0, 22.0, 35.0)
"""Sizes of small sealed batteries. Common practice."""


def breakaway_battery_small(work: Work) -> Iterator[Finding]:
    """Flag a breakaway battery that does not hold all magnets for 15 minutes.

    Magnets cold and at nominal voltage, the battery charged and new, its capacity shrunk by the
    current after Peukert. A real battery in winter holds less.
    """
    breakaway, current_a = work.rig.trailer.breakaway, _magnets_a(work.rig)
    if breakaway is None or current_a <= 0:
        return
    bound = limit("breakaway-hold")
    minutes = breakaway_minutes(breakaway.capacity_ah, current_a)
    if not bound.is_met_by(minutes):
        yield _finding(work.rig, breakaway, current_a, minutes)


def holding_ah(rig: Rig) -> float | None:
    """Return the smallest usual battery that holds all magnets long enough. [Ah]

    None if the largest does not.
    """
    bound, current_a = limit("breakaway-hold"), _magnets_a(rig)
    enough = (ah for ah in OFFERED_AH if bound.is_met_by(breakaway_minutes(ah, current_a)))
    return next(enough, None)


def _magnets_a(rig: Rig) -> float:
    volts = rig.trailer.nominal_v
    return sum(volts / magnet(brake.size_in).resistance_20_ohm for brake in rig.trailer.brakes)


def _finding(rig: Rig, breakaway: Breakaway, current_a: float, minutes: float) -> Finding:
    bound = limit("breakaway-hold")
    enough = holding_ah(rig)
    wanted = f"Fit {show_capacity(enough)}" if enough else "Fit a second battery beside it"
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where="breakaway battery",
        says=f"{show_capacity(breakaway.capacity_ah)} holds "
        f"{plural(len(rig.trailer.brakes), 'magnet')} ({show_current(current_a)}) for about "
        f"{minutes:.0f} minutes; {bound.value:.0f} are asked for.",
        why="The brakes must hold the trailer until it is made safe.",
        fix=f"{wanted} or more, and test it with the trailer unplugged.",
        source=bound.source,
        value=minutes,
        limit=bound.value,
        unit="min",
        station="junction",
        standing=bound.standing,
    )


RULE = Rule(CODE, "Breakaway battery too small", SOURCE, breakaway_battery_small)
