"""CONV01: a converter is overloaded."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import HEAVY, NOMINAL, cases
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit, command_title
from loomwright.electrics.answers import CommandAnswer
from loomwright.electrics.carriers import carrier
from loomwright.quantities import show_current
from loomwright.rig.model import Converter

CODE = "CONV01"
SOURCE = "converter-systems"

Drawn = dict[str, tuple[float, str]]


def converter_overloaded(work: Work) -> Iterator[Finding]:
    """Flag each output of a converter that gives more than its rating, and the box as a whole.

    The sum of what the trailer's loads on that output take, under the command that takes most;
    the whole box is judged only where its own limit is stated.
    """
    box = work.rig.converter
    if box is None:
        return
    drawn: Drawn = {}
    total = (0.0, "")
    for case in cases(work, NOMINAL, HEAVY, everything=True):
        sums = _by_channel(case, box)
        for channel, current_a in sums.items():
            drawn[channel] = max(drawn.get(channel, (0.0, "")), (current_a, case.command))
        total = max(total, (sum(sums.values()), case.command))
    for channel, (current_a, command) in drawn.items():
        limit_a = box.channel_a[channel]
        if current_a > limit_a:
            yield _over(box, f"{circuit(channel)} output", current_a, limit_a, command)
    if box.max_current_a is not None and total[0] > box.max_current_a:
        yield _over(box, "whole box", total[0], box.max_current_a, total[1])


def _by_channel(case: CommandAnswer, box: Converter) -> dict[str, float]:
    """Sum the currents of the trailer's loads by the output they hang on. [A]"""
    sums: dict[str, float] = {}
    for load in case.loads:
        channel = carrier(load.function, box.channel_a)
        if channel is not None and load.kind not in ("vehicle lamp", "trigger"):
            sums[channel] = sums.get(channel, 0.0) + max(load.current_a, 0.0)
    return sums


def _over(box: Converter, what: str, current_a: float, limit_a: float, command: str) -> Finding:
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where=f"{box.name}, {what}",
        says=f"{capital(what)} of the {box.name}: {show_current(current_a)} under "
        f"{command_title(command)}; it is made for {show_current(limit_a)}.",
        why="An overloaded converter shuts down or burns out, and its lamps go dark together.",
        fix=f"Fit a converter made for {show_current(1.25 * current_a)} there, or lamps that take "
        "less.",
        source=SOURCE,
        value=current_a,
        limit=limit_a,
        unit="A",
        station="converter",
        command=command,
        standing="common practice",
    )


RULE = Rule(CODE, "Converter overloaded", SOURCE, converter_overloaded)
