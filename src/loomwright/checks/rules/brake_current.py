"""BRAK02: the brakes together take too much."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import HEAVY, NOMINAL, lit
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import command_title, plural
from loomwright.quantities import show_current
from loomwright.reference.limits import Limit, limit
from loomwright.rig.model import BrakeController, Braking, Rig

CODE = "BRAK02"
SOURCE = "dir-71-320-eec: annex XI"

EUROPEAN = frozenset({"EU", "UN", "GB"})


def brakes_take_too_much(work: Work) -> Iterator[Finding]:
    """Flag magnets that together take more than the controller gives, or than the EU allows.

    The controller's own limit must hold in mild weather; one that only frost and the highest
    charging voltage pass is a note. The European 15 A is for electric brakes there.
    """
    yield from _over_controller(work)
    yield from _over_european_limit(work)


def _over_controller(work: Work) -> Iterator[Finding]:
    controller = work.rig.vehicle.brake_controller
    if controller is None:
        return
    for conditions, severity in ((NOMINAL, Severity.MUST), (HEAVY, Severity.NOTE)):
        drawn = _largest(work, conditions)
        if drawn is not None and drawn[1] > controller.max_current_a:
            yield _over(work.rig, controller, severity, *drawn)
            return


def _over(
    rig: Rig, controller: BrakeController, severity: Severity, command: str, current_a: float
) -> Finding:
    frost = " in frost" if severity is Severity.NOTE else ""
    return Finding(
        rule=CODE,
        severity=severity,
        where="brake controller",
        says=f"{_magnets(rig)} take {show_current(current_a)}{frost} under "
        f"{command_title(command)}; the controller gives {show_current(controller.max_current_a)}.",
        why="A controller over its limit shuts down or cuts back, and the trailer does not brake.",
        fix=f"Fit a controller made for {show_current(current_a)} and {_magnets(rig)}.",
        source="vehicle-manuals: output limit of the controller",
        value=current_a,
        limit=controller.max_current_a,
        unit="A",
        station="feed",
        command=command,
        standing="common practice",
    )


def _over_european_limit(work: Work) -> Iterator[Finding]:
    rig = work.rig
    drawn = _largest(work, NOMINAL)
    is_bound = rig.jurisdiction in EUROPEAN and rig.trailer.braking is Braking.ELECTRIC
    bound: Limit = limit("brake-current-eu")
    if not is_bound or drawn is None or bound.is_met_by(drawn[1]):
        return
    command, current_a = drawn
    yield Finding(
        rule=CODE,
        severity=Severity.MUST,
        where="trailer brakes",
        says=f"The brakes take {show_current(current_a)} under {command_title(command)}; "
        f"{show_current(bound.value)} is the most that the European rule allows.",
        why="Over it the trailer is not lawful there, whatever the wires stand.",
        fix="Ask the axle maker for magnets approved for this country.",
        source=bound.source,
        value=current_a,
        limit=bound.value,
        unit="A",
        station="load",
        command=command,
        standing=bound.standing,
    )


def _largest(work: Work, conditions: str) -> tuple[str, float] | None:
    """Return the command with the largest sum of magnet currents, and the sum. [A]"""
    sums: dict[str, float] = {}
    for case, load in lit(work, conditions, kind="brake"):
        sums[case.command] = sums.get(case.command, 0.0) + load.current_a
    return max(sums.items(), key=lambda each: each[1], default=None)


def _magnets(rig: Rig) -> str:
    return plural(len(rig.trailer.brakes), "magnet")


RULE = Rule(CODE, "Brakes take too much current", SOURCE, brakes_take_too_much)
