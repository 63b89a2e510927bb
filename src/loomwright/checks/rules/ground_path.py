"""GRND03: the way home is none."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, worst_by
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import command_title
from loomwright.electrics.answers import CommandAnswer, JointAnswer
from loomwright.quantities import show_current, show_voltage
from loomwright.reference.connectors import connector
from loomwright.reference.joints import joint
from loomwright.rig.model import Rig

CODE = "GRND03"
SOURCE = "trade; ccr-13-1249: (a)"

NO_GROUND = frozenset({"ring-terminal-painted", "hitch-ball"})
"""Joints that look like a ground and are none."""


def ground_that_is_none(work: Work) -> Iterator[Finding]:
    """Flag a trailer without a ground wire through the plug, and grounds on paint or the ball.

    Ball and coupler are greased and rusty, and the bed, the bumper and the ball mount hang on
    bolts and paint: current comes home there today and not tomorrow.
    """
    yield from _no_ground_pin(work.rig)
    yield from _bad_joints(work)
    yield from _hitch_counted(work.rig)


def _no_ground_pin(rig: Rig) -> Iterator[Finding]:
    wanted = bool(connector(rig.trailer.plug).pins_for("ground"))
    if not wanted or rig.trailer.cord_wire_for("ground") is not None:
        return
    yield _finding(
        Severity.DANGER,
        "trailer cord",
        "The trailer's cord has no ground wire: its current comes home over ball and coupler.",
        "Run a ground wire through cord and plug, as thick as the thickest feed.",
        station="cord",
    )


def _bad_joints(work: Work) -> Iterator[Finding]:
    bad = (
        (case, each)
        for case in cases(work, NOMINAL)
        for each in case.joints
        if each.part.joint_kind in NO_GROUND and each.part.path == "return"
    )
    worst = worst_by(bad, lambda each: each[1].part.element, lambda each: abs(each[1].drop_v))
    for case, reading in worst.values():
        yield _joint(case, reading)


def _joint(case: CommandAnswer, reading: JointAnswer) -> Finding:
    part = reading.part
    title = joint(part.joint_kind or "hitch-ball").title
    return _finding(
        Severity.MUST,
        part.place,
        f"{part.place} is a {title}: {show_current(abs(reading.current_a))} comes home there and "
        f"{show_voltage(abs(reading.drop_v))} is lost under {command_title(case.command)}.",
        "Bare the metal, crimp a ring, use a serrated washer, and coat the finished joint.",
        station=part.station,
        command=case.command,
    )


def _hitch_counted(rig: Rig) -> Iterator[Finding]:
    if rig.trailer.hitch_path_ohm is None:
        return
    yield _finding(
        Severity.NOTE,
        "ball and chains",
        "This rig counts ball and chains as a second way home.",
        "Judge the rig with that way taken out: it comes and goes with every bump.",
        station="plug",
    )


def _finding(
    severity: Severity, where: str, says: str, fix: str, *, station: str, command: str = ""
) -> Finding:
    return Finding(
        rule=CODE,
        severity=severity,
        where=where,
        says=says,
        why="Without a sure way home lamps backfeed through each other, and brakes fail.",
        fix=fix,
        source=SOURCE,
        station=station,
        command=command,
        standing="common practice",
    )


RULE = Rule(CODE, "Ground that is none", SOURCE, ground_that_is_none)
