"""BRAK01: a brake magnet gets too little."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.budgets import lossy
from loomwright.checks.readings import DIM, NOMINAL, is_dead_for_a_known_reason, lit
from loomwright.checks.remedy import less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_current, show_voltage
from loomwright.reference.brakes import Magnet, magnet
from loomwright.reference.limits import limit
from loomwright.rig.model import Rig

CODE = "BRAK01"
SOURCE = "assumption; magnet-test-figures"


def magnets_too_weak(work: Work) -> Iterator[Finding]:
    """Flag the weakest brake magnet at full output: under 10.5 V, or 90 % of its usual current.

    The controller gives all it can and the engine runs. One finding for all magnets: the same
    wire feeds them, and the last one has least. Under 9 V the trailer hardly brakes. Brakes that
    get too little only with hot magnets at idle and tired contacts are a note.
    """
    for conditions in (NOMINAL, DIM):
        weak = [each for each in lit(work, conditions, kind="brake") if _is_weak(work, *each)]
        if weak:
            case, load = min(weak, key=lambda each: each[1].voltage_v)
            yield _finding(work, case, load, len({each.name for _, each in weak}))
            return


def is_too_weak(rig: Rig, load: LoadAnswer) -> bool:
    """Whether a magnet gets less than 10.5 V of 12."""
    return load.voltage_v < limit("magnet-voltage").value * rig.trailer.nominal_v / 12


def _is_weak(work: Work, case: CommandAnswer, load: LoadAnswer) -> bool:
    if is_dead_for_a_known_reason(work, case, load):
        return False
    least_a = limit("magnet-share-of-manual").share * _magnet(work.rig, load).manual_a
    is_cold = case.conditions == NOMINAL
    return is_too_weak(work.rig, load) or (is_cold and load.current_a < least_a)


def _magnet(rig: Rig, load: LoadAnswer) -> Magnet:
    brakes = [brake for brake in rig.trailer.brakes if load.name.startswith(brake.name)]
    return magnet((brakes or list(rig.trailer.brakes))[0].size_in)


def _finding(work: Work, case: CommandAnswer, load: LoadAnswer, weak: int) -> Finding:
    bound = limit("magnet-voltage")
    least_v = bound.value * work.rig.trailer.nominal_v / 12
    when = "" if case.conditions == NOMINAL else " on a hot day, idling, with tired contacts"
    usual_a = _magnet(work.rig, load).manual_a
    return Finding(
        rule=CODE,
        severity=_severity(work, case, load),
        where=load.name if "brake" in load.name else f"{load.name} brake",
        says=f"The weakest of {len(work.rig.trailer.brakes)} magnets, {load.name}, gets "
        f"{show_voltage(load.voltage_v)} and {show_current(load.current_a)} under "
        f"{command_title(case.command)}{when}; {show_voltage(least_v)} is the least and "
        f"{show_current(usual_a)} is usual. {_how_many(weak, work.rig)}",
        why="Weak magnets brake late, and unevenly from axle to axle.",
        fix=_mend(work, case, load, least_v),
        source=f"{bound.source}; magnet-test-figures",
        value=load.voltage_v,
        limit=least_v,
        unit="V",
        station="load",
        command=case.command,
        standing=bound.standing,
    )


def _how_many(weak: int, rig: Rig) -> str:
    if weak == len(rig.trailer.brakes):
        return "All are too weak."
    return f"{weak} {'is' if weak == 1 else 'are'} too weak."


def _mend(work: Work, case: CommandAnswer, load: LoadAnswer, least_v: float) -> str:
    if case.conditions != NOMINAL:
        return "Nothing now; thicker brake wire and ground would keep it from getting there."
    found = less_drop(lossy(load), max(least_v - load.voltage_v, 0.1), work.rig.units)
    return found or (
        "Read the voltage at the socket's brake pin, then at the magnets, both to ground."
    )


def _severity(work: Work, case: CommandAnswer, load: LoadAnswer) -> Severity:
    if case.conditions != NOMINAL:
        return Severity.NOTE
    danger_v = limit("magnet-danger").value * work.rig.trailer.nominal_v / 12
    return Severity.DANGER if load.voltage_v < danger_v else Severity.MUST


RULE = Rule(CODE, "Brake magnets too weak", SOURCE, magnets_too_weak)
