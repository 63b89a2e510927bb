"""CONV02: the systems differ and nothing stands between."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.hookup.model import ConverterNeed
from loomwright.quantities import show_current

CODE = "CONV02"
SOURCE = "trade-converters"

TOLD_ELSEWHERE = frozenset({"isolate", "step-down"})
"""CONV03 tells of watched lamps, VOLT01 of two voltages."""


def converters_missing(work: Work) -> Iterator[Finding]:
    """Flag each mismatch of vehicle and trailer that needs a converter or an adapter.

    A lamp for stop and turn together against a lamp for each, and plugs that do not fit.
    """
    for need in work.hookup.needs:
        if need.kind not in TOLD_ELSEWHERE:
            yield _finding(work, need)


def _finding(work: Work, need: ConverterNeed) -> Finding:
    per = " per output" if need.rating_of == "channel" else ""
    rated = "" if need.rating_a is None else f" made for {show_current(need.rating_a)}{per}"
    is_adapter = need.kind == "adapter"
    thing = "adapter or the socket that fits" if is_adapter else f"{need.kind} converter{rated}"
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where="between vehicle and trailer",
        says=need.says,
        why="The plug does not go in, or goes in wrong."
        if is_adapter
        else "Without it a turn signal shows as stop, or stop and turn feed back into each other.",
        fix=f"Fit {'an' if is_adapter else 'a'} {thing} before {work.rig.towing}.",
        source=need.source,
        station="converter",
        standing="common practice",
    )


RULE = Rule(CODE, "Converter or adapter needed", SOURCE, converters_missing)
