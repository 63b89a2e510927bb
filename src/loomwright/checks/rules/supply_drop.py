"""DROP01: too much is lost on the way to a load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.budgets import (
    drop_budget,
    is_electronics,
    judged_loads,
    lossy,
    lost_v,
)
from loomwright.checks.readings import NOMINAL, load_name, worst_by
from loomwright.checks.remedy import culprit, less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.lamp_voltage import low_lamps
from loomwright.checks.words import capital, circuits, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, Rung
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit
from loomwright.rig.model import Rig

CODE = "DROP01"
SOURCE = "abyc-e11-clauses: critical and other circuits"

FAR_OVER = 2.0
"""Times the budget from which a drop must be mended, not only should be."""


@dataclass(frozen=True, slots=True)
class Lossy:
    """A load over its budget: the rungs that count, what they lose and may lose. [V]"""

    case: CommandAnswer
    load: LoadAnswer
    rungs: tuple[Rung, ...]
    lost_v: float
    budget_v: float

    @property
    def cause(self) -> str:
        """Reference of the part where a mend gives most."""
        return culprit(self.rungs, self.lost_v - self.budget_v)


def supply_drops_too_much(work: Work) -> Iterator[Finding]:
    """Flag circuits that lose more than their budget between the supply and their worst load.

    The budget is 10 % of the trailer's voltage, and 3 % for chargers and electronics. Lamps share
    their way home, which DROP02 judges: here their way out alone is already over it. Appliances
    and chargers are judged out and home; a heater that gets 95 % of its rated voltage all the
    same passes. Behind a step-down converter the way begins at its output. Circuits that lose
    most at one place, in wires of one size, are told together. Where lamps get too little, LAMP01
    comes first and lamps are judged here when that is mended; magnets are left to BRAK01, BRAK03.
    """
    over = list(_over(work, lamps=not low_lamps(work, NOMINAL)))
    worst = worst_by(over, lambda each: each.load.function, lambda each: each.lost_v)
    groups: dict[tuple[str, str], list[Lossy]] = {}
    for each in worst.values():
        groups.setdefault(_place_of(each), []).append(each)
    for alike in groups.values():
        yield _finding(work, alike)


def _over(work: Work, *, lamps: bool) -> Iterator[Lossy]:
    for case, load in judged_loads(work):
        if load.kind == "brake" or (load.kind == "lamp" and not lamps):
            continue
        rungs = lossy(load)
        if load.kind == "lamp":
            rungs = tuple(rung for rung in rungs if rung.part.path == "supply")
        lost = lost_v(rungs, "supply") + lost_v(rungs, "return")
        budget_v = drop_budget(work.rig, load).share * work.rig.trailer.nominal_v
        if lost > budget_v and not _heats_enough(work.rig, load):
            yield Lossy(case, load, rungs, lost, budget_v)


def _heats_enough(rig: Rig, load: LoadAnswer) -> bool:
    """Whether a heater among the appliances gets nearly what it is rated for."""
    rated = [each.at_v for each in rig.trailer.appliances if load.name.startswith(each.name)]
    if load.kind != "appliance" or is_electronics(rig, load) or not rated:
        return False
    return load.voltage_v >= limit("appliance-share").share * rated[0]


def _place_of(each: Lossy) -> tuple[str, str]:
    """Return where the worst part of the way is, and its size."""
    parts = [
        rung.part
        for rung in each.rungs
        if each.cause in (rung.part.ref, rung.part.ref + rung.part.element)
    ]
    return (parts[0].station, str(parts[0].size)) if parts else ("run", "")


def _finding(work: Work, alike: list[Lossy]) -> Finding:
    worst = max(alike, key=lambda each: each.lost_v / each.budget_v)
    case, load = worst.case, worst.load
    bound = drop_budget(work.rig, load)
    most = max(worst.rungs, key=lambda rung: rung.drop_v)
    home = "" if load.kind == "lamp" else " and back"
    each = " Do the same for the others." if len(alike) > 1 else ""
    return Finding(
        rule=CODE,
        severity=Severity.MUST if worst.lost_v > FAR_OVER * worst.budget_v else Severity.SHOULD,
        where=most.part.place,
        says=f"{capital(circuits(one.load.function for one in alike))}: "
        f"{show_voltage(worst.lost_v)} is lost on the way to {load_name(work.rig, load)}{home} "
        f"under {command_title(case.command)}; {show_voltage(worst.budget_v)} is the budget.",
        why="What the wires keep, the load does not get.",
        fix=less_drop(worst.rungs, worst.lost_v - worst.budget_v, work.rig.units) + each
        or "Read the voltage part by part under load.",
        source=bound.source,
        value=worst.lost_v,
        limit=worst.budget_v,
        unit="V",
        station=most.part.station,
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Drop on the supply side over budget", SOURCE, supply_drops_too_much)
