"""FUSE05: a fuse opens in normal use."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import HEAVY, NOMINAL, cases
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.electrics.answers import CommandAnswer, FuseAnswer
from loomwright.quantities import show_current
from loomwright.reference.fuses import CONTINUOUS_SHARE

CODE = "FUSE05"
SOURCE = "iso-8820-3; blade-fuse-sheets"


def fuses_open_in_use(work: Work) -> Iterator[Finding]:
    """Flag each fuse that some command opens.

    A fuse is taken to open at 1.35 times its rating, where blade fuses must open within minutes.
    What hangs behind it goes dead together; a brake fuse is a danger.
    """
    opened: dict[str, tuple[CommandAnswer, FuseAnswer]] = {}
    for case in cases(work, NOMINAL, HEAVY, everything=True):
        for fuse in case.fuses:
            if fuse.opened:
                opened.setdefault(fuse.element, (case, fuse))
    for case, fuse in opened.values():
        yield _finding(case, fuse)


def _finding(case: CommandAnswer, fuse: FuseAnswer) -> Finding:
    frost = " in frost, with the highest charging voltage" if case.conditions == HEAVY else ""
    is_brake = fuse.function == "brake"
    return Finding(
        rule=CODE,
        severity=Severity.DANGER if is_brake else Severity.MUST,
        where=fuse.place,
        says=f"{capital(circuit(fuse.function))}: the {show_current(fuse.rating_a)} fuse opens "
        f"under {command_title(case.command)}{frost}.",
        why="All that hangs behind it goes dead at once"
        + (", brakes included." if is_brake else "."),
        fix="Take some of the load to a feed of its own, or fit a larger fuse with wire to match: "
        f"the load should stay within {CONTINUOUS_SHARE:.0%} of the rating.",
        source=SOURCE,
        station="fuse",
        command=case.command,
        standing="common practice",
    )


RULE = Rule(CODE, "Fuse opens in use", SOURCE, fuses_open_in_use)
