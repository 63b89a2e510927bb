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

HIGH_CURRENT_A = 5.0
SMALL_WIRE_TIMES = 2.0
"""A contact of a small wire is called bad from 0.2 V on. From memory."""

Warmed = tuple[CommandAnswer, JointAnswer]


def joints_hot(work: Work) -> Iterator[Finding]:
    """Flag joints that turn more than 2 W into heat, or drop more than 0.1 V.

    The worst of each station is told, with how many more there are. Over 2 W the plastic of a
    plug can melt; over 0.1 V a connection with 5 A or more counts as bad, over 0.2 V any.
    """
    heat = limit("joint-heat")
    bad = [
        (case, joint)
        for case in cases(work, NOMINAL)
        for joint in case.joints
        if joint.heat_w > heat.value or _drops_too_much(joint)
    ]
    worst = worst_by(bad, lambda each: each[1].part.station, lambda each: each[1].heat_w)
    for station, (case, joint) in worst.items():
        elements = {each.part.element for _, each in bad if each.part.station == station}
        yield _finding(case, joint, len(elements) - 1)


def _drops_too_much(joint: JointAnswer) -> bool:
    most_v = limit("connection-drop").value
    if abs(joint.current_a) < HIGH_CURRENT_A:
        most_v *= SMALL_WIRE_TIMES
    return abs(joint.drop_v) > most_v


def _finding(case: CommandAnswer, joint: JointAnswer, others: int) -> Finding:
    heat, drop = limit("joint-heat"), limit("connection-drop")
    hot = joint.heat_w > heat.value
    more = f" Over it there as well: {plural(others, 'more joint')}." if others else ""
    bound = heat if hot else drop
    return Finding(
        rule=CODE,
        severity=Severity.MUST if hot else Severity.SHOULD,
        where=joint.part.place,
        says=f"{capital(joint.part.place)} drops {show_voltage(abs(joint.drop_v))} and makes "
        f"{show_power(joint.heat_w)} of heat under {command_title(case.command)}; "
        f"{show_voltage(drop.value)} and {show_power(heat.value)} are the most.{more}",
        why="Heat makes the contact worse, which makes more heat, until the plastic melts.",
        fix=f"Clean, tighten or replace it; it is taken as "
        f"{show_resistance(joint.resistance_ohm)}, so measure its drop first.",
        source=bound.source,
        value=joint.heat_w if hot else abs(joint.drop_v),
        limit=bound.value,
        unit="W" if hot else "V",
        station=joint.part.station,
        command=case.command,
        standing=bound.standing,
    )


RULE = Rule(CODE, "Joint that drops or heats too much", SOURCE, joints_hot)
