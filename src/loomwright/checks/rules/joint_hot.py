"""JOIN03: joints or contacts that warm or drop too much."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, is_momentary, worst_by
from loomwright.checks.remedy import WORTH_REMAKING, good_ohm
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, command_title
from loomwright.electrics.answers import CommandAnswer, JointAnswer
from loomwright.quantities import show_power, show_resistance, show_voltage
from loomwright.reference.limits import limit

CODE = "JOIN03"
SOURCE = "drop-tests: SAE maxima as quoted; assumption"

HIGH_CURRENT_A = 5.0
SMALL_WIRE_TIMES = 2.0
"""A contact of a small wire is called bad from 0.2 V on. From memory."""

MOST_NAMED = 2

Warmed = tuple[CommandAnswer, JointAnswer]


def joints_hot(work: Work) -> Iterator[Finding]:
    """Flag joints that turn more than 2 W into heat, or drop more than 0.1 V.

    All are told in one finding, the worst first. Over 2 W for hours the plastic of a plug can
    melt; heat of a few seconds of braking, of a ring on steel, and drop alone are less grave.
    Over 0.1 V a connection with 5 A or more counts as bad, over 0.2 V any. A joint as good as a
    new one of its kind is told only for lasting heat: then the current is too much for it.
    """
    bad = [
        (case, joint)
        for case in cases(work, NOMINAL)
        for joint in case.joints
        if _is_hot(joint) or _drops_too_much(joint)
        if _is_poor(joint) or (_is_hot(joint) and not is_momentary(case.command))
    ]
    worst = worst_by(bad, lambda each: each[1].part.element, _badness)
    if worst:
        yield _finding(sorted(worst.values(), key=_badness, reverse=True))


def _is_hot(joint: JointAnswer) -> bool:
    return joint.heat_w > limit("joint-heat").value


def _is_poor(joint: JointAnswer) -> bool:
    kind = joint.part.joint_kind
    return kind is None or joint.resistance_ohm > WORTH_REMAKING * good_ohm(kind)


def _lasts(warmed: Warmed) -> bool:
    """Whether a contact, which sits in plastic, is hot for hours."""
    case, joint = warmed
    return _is_hot(joint) and joint.part.kind == "contact" and not is_momentary(case.command)


def _badness(warmed: Warmed) -> tuple[int, float]:
    return int(_lasts(warmed)), warmed[1].heat_w


def _drops_too_much(joint: JointAnswer) -> bool:
    most_v = limit("connection-drop").value
    if abs(joint.current_a) < HIGH_CURRENT_A:
        most_v *= SMALL_WIRE_TIMES
    return abs(joint.drop_v) > most_v


def _finding(bad: list[Warmed]) -> Finding:
    case, joint = bad[0]
    heat, drop = limit("joint-heat"), limit("connection-drop")
    bound = heat if _is_hot(joint) else drop
    places = [each.part.place for _, each in bad[1:]]
    rest = [f"{len(places) - MOST_NAMED} more"] if len(places) > MOST_NAMED else []
    more = f" Bad as well: {'; '.join([*places[:MOST_NAMED], *rest])}." if places else ""
    return Finding(
        rule=CODE,
        severity=Severity.MUST if _lasts(bad[0]) else Severity.SHOULD,
        where=joint.part.place,
        says=f"{capital(joint.part.place)} drops {show_voltage(abs(joint.drop_v))} and makes "
        f"{show_power(joint.heat_w)} of heat under {command_title(case.command)}; "
        f"{show_voltage(drop.value)} and {show_power(heat.value)} are the most.{more}",
        why="Heat makes a contact worse, which makes more heat, until the plastic melts.",
        fix=_mend(joint),
        source=bound.source,
        value=joint.heat_w if _is_hot(joint) else abs(joint.drop_v),
        limit=bound.value,
        unit="W" if _is_hot(joint) else "V",
        station=joint.part.station,
        command=case.command,
        standing=bound.standing,
    )


def _mend(joint: JointAnswer) -> str:
    if not _is_poor(joint):
        return "Give part of this load a contact of its own, or use a connector made for it."
    kind = joint.part.joint_kind
    then = "" if kind is None else f"; a good one has {1000 * good_ohm(kind):.2g}\u00a0mΩ"
    return (
        f"Measure its drop under load first: it is taken as "
        f"{show_resistance(joint.resistance_ohm)}{then}. Then clean or make it anew."
    )


RULE = Rule(CODE, "Joint that drops or heats too much", SOURCE, joints_hot)
