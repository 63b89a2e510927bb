"""DROP01: too much is lost on the supply side."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.budgets import drop_budget, judged_loads
from loomwright.checks.readings import load_name, worst_by
from loomwright.checks.remedy import less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_voltage

CODE = "DROP01"
SOURCE = "abyc-e11-clauses: critical and other circuits"
FAR_OVER = 2.0
"""Times the budget from which a drop must be mended, not only should be."""


def supply_drops_too_much(work: Work) -> Iterator[Finding]:
    """Flag each circuit that loses more than its budget between the battery and its worst load.

    The budget is 10 % of the nominal voltage for lamps and brakes, and 3 % for charge lines and
    electronics. It holds for the way out and the way home together; here the way out alone is
    already over it. The way home is DROP02.
    """
    worst = worst_by(
        _loads(work), lambda each: each[1].function, lambda each: each[1].supply_drop_v
    )
    for case, load in worst.values():
        budget_v = drop_budget(work.rig, load).share * work.rig.vehicle.supply.nominal_v
        if load.supply_drop_v > budget_v:
            yield _finding(work, case, load, budget_v)


def _loads(work: Work) -> Iterator[tuple[CommandAnswer, LoadAnswer]]:
    return ((case, load) for case, load in judged_loads(work) if not _is_behind_a_converter(load))


def _is_behind_a_converter(load: LoadAnswer) -> bool:
    """Whether a step-down stands between: what it takes off is its job, not a loss."""
    return any(rung.part.kind == "converter" for rung in load.ladder)


def _finding(work: Work, case: CommandAnswer, load: LoadAnswer, budget_v: float) -> Finding:
    bound = drop_budget(work.rig, load)
    ladder = [rung for rung in load.ladder if rung.part.path == "supply"]
    far_over = load.supply_drop_v > FAR_OVER * budget_v
    worst = max(ladder, key=lambda rung: rung.drop_v, default=None)
    return Finding(
        rule=CODE,
        severity=Severity.MUST if far_over else Severity.SHOULD,
        where=worst.part.place if worst is not None else load.name,
        says=f"{capital(circuit(load.function))}: {show_voltage(load.supply_drop_v)} is lost on "
        f"the way to {load_name(work.rig, load)} under {command_title(case.command)}; "
        f"{show_voltage(budget_v)} is the budget.",
        why="What the wires keep, the load does not get.",
        fix=less_drop(ladder, load.supply_drop_v - budget_v, work.rig.units),
        source=bound.source,
        value=load.supply_drop_v,
        limit=budget_v,
        unit="V",
        station=worst.part.station if worst is not None else "run",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Drop on the supply side over budget", SOURCE, supply_drops_too_much)
