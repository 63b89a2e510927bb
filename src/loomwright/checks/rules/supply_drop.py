"""DROP01: too much is lost on the supply side."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.budgets import drop_budget, judged_loads
from loomwright.checks.readings import load_name, worst_by
from loomwright.checks.remedy import less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.brake_voltage import is_too_weak
from loomwright.checks.rules.lamp_voltage import is_too_low
from loomwright.checks.words import capital, circuits, command_title, without_side
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_voltage

CODE = "DROP01"
SOURCE = "abyc-e11-clauses: critical and other circuits"

FAR_OVER = 2.0
"""Times the budget from which a drop must be mended, not only should be."""

Reading = tuple[CommandAnswer, LoadAnswer]


def supply_drops_too_much(work: Work) -> Iterator[Finding]:
    """Flag each circuit that loses more than its budget between the battery and its worst load.

    The budget is 10 % of the nominal voltage for lamps and brakes, and 3 % for chargers and
    electronics. It holds for the way out and the way home together; here the way out alone is
    already over it. The way home is DROP02. Lamps and magnets that get too little are told by
    LAMP01 and BRAK01 instead; left and right are told together.
    """
    readings = list(judged_loads(work))
    told = {load.function for _, load in readings if _is_told_elsewhere(work, load)}
    over = (each for each in readings if _is_over(work, each[1]) and each[1].function not in told)
    worst = worst_by(over, lambda each: each[1].function, lambda each: each[1].supply_drop_v)
    pairs: dict[str, list[Reading]] = {}
    for function, reading in worst.items():
        pairs.setdefault(without_side(function), []).append(reading)
    for alike in pairs.values():
        yield _finding(work, alike)


def _is_over(work: Work, load: LoadAnswer) -> bool:
    return load.supply_drop_v > _budget_v(work, load) and not _is_behind_a_converter(load)


def _is_told_elsewhere(work: Work, load: LoadAnswer) -> bool:
    if load.kind == "lamp":
        return load.commanded and is_too_low(work, load)
    return load.kind == "brake" and load.commanded and is_too_weak(work.rig, load)


def _budget_v(work: Work, load: LoadAnswer) -> float:
    return drop_budget(work.rig, load).share * work.rig.vehicle.supply.nominal_v


def _is_behind_a_converter(load: LoadAnswer) -> bool:
    """Whether a step-down stands between: what it takes off is its job, not a loss."""
    return any(rung.part.kind == "converter" for rung in load.ladder)


def _finding(work: Work, alike: list[Reading]) -> Finding:
    case, load = max(alike, key=lambda each: each[1].supply_drop_v)
    bound, budget_v = drop_budget(work.rig, load), _budget_v(work, load)
    ladder = [rung for rung in load.ladder if rung.part.path == "supply"]
    far_over = load.supply_drop_v > FAR_OVER * budget_v
    worst = max(ladder, key=lambda rung: rung.drop_v, default=None)
    both = " Do the same for the other side." if len(alike) > 1 else ""
    return Finding(
        rule=CODE,
        severity=Severity.MUST if far_over else Severity.SHOULD,
        where=worst.part.place if worst is not None else load.name,
        says=f"{capital(circuits(each.function for _, each in alike))}: "
        f"{show_voltage(load.supply_drop_v)} is lost on the way to "
        f"{load_name(work.rig, load)} under {command_title(case.command)}; "
        f"{show_voltage(budget_v)} is the budget.",
        why="What the wires keep, the load does not get.",
        fix=less_drop(ladder, load.supply_drop_v - budget_v, work.rig.units) + both,
        source=bound.source,
        value=load.supply_drop_v,
        limit=budget_v,
        unit="V",
        station=worst.part.station if worst is not None else "run",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Drop on the supply side over budget", SOURCE, supply_drops_too_much)
