"""DROP02: too much is lost on the way home."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.budgets import judged_loads
from loomwright.checks.readings import load_name
from loomwright.checks.remedy import less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import circuits, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit

CODE = "DROP02"
SOURCE = "drop-tests"


def return_drops_too_much(work: Work) -> Iterator[Finding]:
    """Flag the shared way home if any load loses more than 0.5 V on it.

    The current of every load comes home through the same few conductors, so a thin or corroded
    ground shows in all circuits at once. Workshops take 0.2 V on a long trailer ground as good,
    0.5 V as a sign of a fault and 1 V as proof of one. One finding is made for each return of
    the plug, with the load that suffers most.
    """
    worst: dict[str, tuple[CommandAnswer, LoadAnswer]] = {}
    suffering: dict[str, list[str]] = {}
    for case, load in _loads(work):
        home = _return_of(load)
        suffering.setdefault(home, []).append(load.function)
        if home not in worst or load.return_drop_v > worst[home][1].return_drop_v:
            worst[home] = case, load
    for home, (case, load) in worst.items():
        yield _finding(work, case, load, suffering[home])


def _loads(work: Work) -> Iterator[tuple[CommandAnswer, LoadAnswer]]:
    most = limit("drop-suspect")
    return (each for each in judged_loads(work) if not most.is_met_by(each[1].return_drop_v))


def _return_of(load: LoadAnswer) -> str:
    homes = [rung.part.function for rung in load.ladder if rung.part.path == "return"]
    return homes[0] if homes else "ground"


def _finding(work: Work, case: CommandAnswer, load: LoadAnswer, functions: list[str]) -> Finding:
    bound, proof = limit("drop-suspect"), limit("drop-fault")
    good = limit("ground-drop-trailer")
    ladder = [rung for rung in load.ladder if rung.part.path == "return"]
    worst = max(ladder, key=lambda rung: rung.drop_v, default=None)
    name = load_name(work.rig, load)
    certain = load.return_drop_v > proof.value
    return Finding(
        rule=CODE,
        severity=Severity.MUST if certain else Severity.SHOULD,
        where=worst.part.place if worst is not None else "ground",
        says=f"{show_voltage(load.return_drop_v)} is lost on the way home from {name} under "
        f"{command_title(case.command)}; over {show_voltage(bound.value)} tells of a fault, "
        f"{show_voltage(good.value)} is good. It weakens: {circuits(functions)}.",
        why="The way home is shared: what one load makes it lose, all loads lose.",
        fix=less_drop(ladder, load.return_drop_v - bound.value, work.rig.units),
        source=bound.source,
        value=load.return_drop_v,
        limit=bound.value,
        unit="V",
        station=worst.part.station if worst is not None else "chassis",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Drop on the return side too large", SOURCE, return_drops_too_much)
