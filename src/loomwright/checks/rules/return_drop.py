"""DROP02: too much is lost on the way home."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.budgets import judged_loads
from loomwright.checks.readings import load_name
from loomwright.checks.remedy import good_ohm, less_drop
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.rules.brake_voltage import is_too_weak
from loomwright.checks.rules.lamp_voltage import is_too_low
from loomwright.checks.words import circuits, command_title
from loomwright.electrics.answers import CommandAnswer, LoadAnswer, Rung
from loomwright.quantities import show_voltage
from loomwright.reference.limits import limit

CODE = "DROP02"
SOURCE = "drop-tests"

Reading = tuple[CommandAnswer, LoadAnswer]


def return_drops_too_much(work: Work) -> Iterator[Finding]:
    """Flag the shared way home of lamps and brakes where it loses too much.

    The current of every load comes home through the same few conductors, so a thin or corroded
    ground shows in all circuits at once. Workshops take 0.5 V as a sign of a fault and 1 V as
    proof of one. A sound long trailer loses more than 0.5 V in its copper while it brakes, so
    between the two it is told only where lamps or magnets get too little for it, or where its
    joints lose 0.25 V more than good ones would. Appliances and chargers are left to DROP01. One
    finding is made for each return of the plug, with the load that suffers most.
    """
    worst: dict[str, Reading] = {}
    suffering: dict[str, list[LoadAnswer]] = {}
    for case, load in judged_loads(work):
        home = _return_of(load)
        if load.kind in ("lamp", "brake") and load.return_drop_v > limit("drop-suspect").value:
            suffering.setdefault(home, []).append(load)
            if home not in worst or load.return_drop_v > worst[home][1].return_drop_v:
                worst[home] = case, load
    for home, (case, load) in worst.items():
        weak = any(_is_weak(work, each) for each in suffering[home])
        is_proven = load.return_drop_v > limit("drop-fault").value
        if weak or is_proven or _lost_in_joints_v(load) > limit("joint-suspect").value:
            severity = Severity.MUST if weak and is_proven else Severity.SHOULD
            yield _finding(work, case, load, suffering[home], severity)


def _is_weak(work: Work, load: LoadAnswer) -> bool:
    if load.kind == "brake":
        return is_too_weak(work.rig, load)
    return is_too_low(work, load)


def _lost_in_joints_v(load: LoadAnswer) -> float:
    """Return what the joints of the way home lose more than good ones would. [V]"""
    return sum(
        rung.drop_v * (1 - good_ohm(rung.part.joint_kind) / rung.resistance_ohm)
        for rung in _way_home(load)
        if rung.part.joint_kind and rung.resistance_ohm > 0
    )


def _way_home(load: LoadAnswer) -> tuple[Rung, ...]:
    return tuple(rung for rung in load.ladder if rung.part.path == "return")


def _return_of(load: LoadAnswer) -> str:
    homes = [rung.part.function for rung in _way_home(load)]
    return homes[0] if homes else "ground"


def _finding(
    work: Work,
    case: CommandAnswer,
    load: LoadAnswer,
    suffering: list[LoadAnswer],
    severity: Severity,
) -> Finding:
    bound, good = limit("drop-suspect"), limit("ground-drop-trailer")
    ladder = _way_home(load)
    worst = max(ladder, key=lambda rung: rung.drop_v, default=None)
    return Finding(
        rule=CODE,
        severity=severity,
        where=worst.part.place if worst is not None else "ground",
        says=f"{show_voltage(load.return_drop_v)} is lost on the way home from "
        f"{load_name(work.rig, load)} under {command_title(case.command)}; over "
        f"{show_voltage(bound.value)} tells of a fault, {show_voltage(good.value)} is good. "
        f"It weakens: {circuits(each.function for each in suffering)}.",
        why="The way home is shared: what one load makes it lose, all loads lose.",
        fix=less_drop(ladder, load.return_drop_v - bound.value, work.rig.units)
        or "Read the drop from the load's ground to the battery, part by part.",
        source=bound.source,
        value=load.return_drop_v,
        limit=bound.value,
        unit="V",
        station=worst.part.station if worst is not None else "chassis",
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Drop on the return side too large", SOURCE, return_drops_too_much)
