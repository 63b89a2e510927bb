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

WORTH_KNOWING = frozenset(
    {
        "six-way-exchange",
        "fifth-wire",
        "two-voltages-one-body",
        "farm-tractor",
        "second-seven-way",
        "twelve-s-change",
        "same-colour-narrower-job",
        "two-whites",
    }
)
"""Traps told even where the rig only passes close by, for who does not know them walks in. The
others are true of nearly every job; the job sheet's faces and splice table keep clear of them."""

DANGERS = frozenset({"fifth-wire", "australian-in-european"})
"""Grave traps in which a brake gets another circuit's current."""


def traps_met(work: Work) -> Iterator[Finding]:
    """Tell the traps of the trade on this rig: grave ones to mend, a few others as notes.

    A trap is grave where following the colours or the plug would hurt or damage. Those that a rig
    only passes close by are told where not knowing them would bite on this very job.
    """
    for trap in work.hookup.traps:
        told = trap.key not in TOLD_ELSEWHERE if trap.grave else trap.key in WORTH_KNOWING
        if told:
            yield _finding(trap)


def _finding(trap: TrapFound) -> Finding:
    return Finding(
        rule=CODE,
        severity=_severity(trap),
        where=trap.where,
        says=f"{trap.title}. {trap.says}",
        why="It is a known cause of damage."
        if trap.grave
        else "Who does not know it loses hours here.",
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
