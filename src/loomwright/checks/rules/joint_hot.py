"""JOIN03: a joint or contact that warms or drops too much."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, worst_by
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, command_title, plural
from loomwright.electrics.answers import CommandAnswer, JointAnswer
from loomwright.quantities import show_power, show_resistance, show_voltage
from loomwright.reference.limits import limit

CODE = "JOIN03"
SOURCE = "drop-tests: SAE maxima as quoted; assumption"

Warmed = tuple[CommandAnswer, JointAnswer]


def joints_hot(work: Work) -> Iterator[Finding]:
    """Flag joints that turn more than 2 W into heat, or drop more than 0.1 V.

    The worst of each station is told, with how many more there are. Over 2 W the plastic of a
    plug can melt; over 0.1 V a high-current connection counts as bad.
    """
    heat, drop = limit("joint-heat"), limit("connection-drop")
    bad = [
        (case, joint)
        for case in cases(work, NOMINAL)
        for joint in case.joints
        if joint.heat_w > heat.value or abs(joint.drop_v) > drop.value
    ]
    worst = worst_by(bad, lambda each: each[1].part.station, lambda each: each[1].heat_w)
    for station, (case, joint) in worst.items():
        elements = {each.part.element for _, each in bad if each.part.station == station}
        yield _finding(case, joint, len(elements) - 1)


def _finding(case: CommandAnswer, joint: JointAnswer, others: int) -> Finding:
    heat, drop = limit("joint-heat"), limit("connection-drop")
    hot = joint.heat_w > heat.value
    more = f" {plural(others, 'more joint')} there are over it too." if others else ""
    bound = heat if hot else drop
    return Finding(
        rule=CODE,
        severity=Severity.MUST if hot else Severity.SHOULD,
        where=joint.part.place,
        says=f"{capital(joint.part.place)} drops {show_voltage(abs(joint.drop_v))} and makes "
        f"{show_power(joint.heat_w)} of heat under {command_title(case.command)}; "
        f"{show_voltage(drop.value)} and {show_power(heat.value)} are the most.{more}",
        why="Heat makes the contact worse, which makes more heat, until the plastic melts.",
        fix=f"Clean, tighten or replace it: it has {show_resistance(joint.resistance_ohm)}.",
        source=bound.source,
        value=joint.heat_w if hot else abs(joint.drop_v),
        limit=bound.value,
        unit="W" if hot else "V",
        station=joint.part.station,
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Joint that drops or heats too much", SOURCE, joints_hot)
