"""TRAP01: a trap of the trade."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.hookup.model import TrapFound

CODE = "TRAP01"
SOURCE = "trade"

TOLD_ELSEWHERE = frozenset(
    {
        "surge-brakes-in-reverse",
        "combined-and-separate",
        "left-and-right-tail",
        "returns-joined",
        "two-voltages-one-body",
        "unfused-supply",
        "charge-line-drains",
        "monitored-lamps",
        "six-way-exchange",
        "two-blade-conventions",
    }
)
"""Grave traps with a rule of their own, which says by how much and what to use."""

DANGERS = frozenset({"fifth-wire", "australian-in-european"})
"""Grave traps in which a brake gets another circuit's current."""


def traps_met(work: Work) -> Iterator[Finding]:
    """Tell the traps of the trade on this rig: grave ones to mend, the others as notes.

    A trap is grave where following the colours or the plug would hurt or damage.
    """
    for trap in work.hookup.traps:
        if not (trap.grave and trap.key in TOLD_ELSEWHERE):
            yield _finding(trap)


def _finding(trap: TrapFound) -> Finding:
    return Finding(
        rule=CODE,
        severity=_severity(trap),
        where=trap.where,
        says=f"{trap.title}. {trap.says}",
        why="It is a known cause of damage." if trap.grave else "Others have lost hours here.",
        fix=trap.do,
        source=trap.source,
        station="plug",
        standing="common practice",
    )


def _severity(trap: TrapFound) -> Severity:
    if not trap.grave:
        return Severity.NOTE
    return Severity.DANGER if trap.key in DANGERS else Severity.MUST


RULE = Rule(CODE, "Trap of the trade", SOURCE, traps_met)
