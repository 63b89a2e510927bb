"""FUSE01: a fuse is loaded too far."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import NOMINAL, cases, worst_by
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.electrics.answers import CommandAnswer, FuseAnswer
from loomwright.quantities import show_current, show_share
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST, ratings
from loomwright.reference.limits import limit

CODE = "FUSE01"
SOURCE = "fuse-75; fuse-125"


def fuses_loaded_too_far(work: Work) -> Iterator[Finding]:
    """Flag each fuse whose normal current is over 80 % of its rating.

    Guides allow 75 % for hours, or choose the fuse at 125 % of the current, which is 80 %. What
    is on only for moments may load it further, so brakes, stop and turn alone are a note until
    the rating itself is passed.
    """
    loaded = (
        (case, fuse)
        for case in cases(work, NOMINAL)
        for fuse in case.fuses
        if fuse.share > CONTINUOUS_SHARE_MOST and not fuse.opened
    )
    worst = worst_by(loaded, lambda each: each[1].element, lambda each: each[1].share)
    for case, fuse in worst.values():
        yield _finding(case, fuse)


def _finding(case: CommandAnswer, fuse: FuseAnswer) -> Finding:
    bound = limit("fuse-continuous")
    return Finding(
        rule=CODE,
        severity=_severity(fuse),
        where=fuse.place,
        says=f"{capital(circuit(fuse.function))}: the {show_current(fuse.rating_a)} fuse carries "
        f"{show_current(fuse.current_a)}, {show_share(fuse.share)} of its rating, under "
        f"{command_title(case.command)}; {show_share(bound.share)} is the most for long.",
        why="A fuse near its rating ages and opens on a hot day, far from home.",
        fix=_mend(fuse, bound.share),
        source=bound.source,
        value=fuse.current_a,
        limit=CONTINUOUS_SHARE_MOST * fuse.rating_a,
        unit="A",
        station="fuse",
        command=case.command,
        standing=bound.standing,
    )


MOMENTARY = frozenset({"brake", "stop", "left_turn", "right_turn", "left_stop_turn"}) | {
    "right_stop_turn",
    "reverse",
}


def _severity(fuse: FuseAnswer) -> Severity:
    if fuse.share > 1:
        return Severity.MUST
    return Severity.NOTE if fuse.function in MOMENTARY else Severity.SHOULD


def _mend(fuse: FuseAnswer, share: float) -> str:
    wanted_a = fuse.current_a / share
    made = [rating for rating in ratings(fuse.kind) if rating >= wanted_a]
    if not made:
        return f"Split the load: no {fuse.kind} fuse is made for {show_current(wanted_a)}."
    return (
        f"Fit a {show_current(made[0])} fuse if the thinnest wire behind it carries that for "
        "hours; else run thicker wire first, or take some of the load to a feed of its own."
    )


RULE = Rule(CODE, "Fuse loaded too far", SOURCE, fuses_loaded_too_far)
