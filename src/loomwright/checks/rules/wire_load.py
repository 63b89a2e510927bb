"""WIRE01: a conductor carries more than it may."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import DIM, NOMINAL, cases, is_momentary, worst_by
from loomwright.checks.remedy import alone_a, size_carrying
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import command_title, plural
from loomwright.electrics.answers import CommandAnswer, ConductorAnswer
from loomwright.quantities import show_current
from loomwright.reference.limits import limit

CODE = "WIRE01"
SOURCE = "cfr-33-183-425: Table 5"

NEAR = 0.02
"""An excess of 2 % is within what a table of whole amperes can tell."""

Loaded = tuple[CommandAnswer, ConductorAnswer]


def wires_overloaded(work: Work) -> Iterator[Finding]:
    """Flag each circuit with a conductor over its ampacity in its bundle.

    Ampacity is that of a boat wire of the same insulation in air of 30 °C, reduced for the wires
    beside it that carry current under the same command; no table for vehicles was found that is
    open to read. So normal and hot conditions count, not the larger currents of frost. What flows
    for moments (brakes, signals) may be a fifth more, for a wire takes a minute to warm. An
    excess of half for hours, which no fuse stops, is a danger.
    """
    over = [
        (case, wire)
        for case in cases(work, NOMINAL, DIM, everything=True)
        for wire in case.conductors
        if wire.share > _most(case) * (1 + NEAR)
    ]
    worst = worst_by(over, _circuit, _badness)
    for circuit, (case, wire) in worst.items():
        places = {each.part.place for case_, each in over if _circuit((case_, each)) == circuit}
        yield _finding(case, wire, len(places) - 1)


def _most(case: CommandAnswer) -> float:
    key = "wire-far-over-momentary" if is_momentary(case.command) else "conductor-load"
    return limit(key).share


def _badness(loaded: Loaded) -> tuple[int, float]:
    """Rank by severity, then by excess."""
    return -_severity(*loaded).rank, loaded[1].share


def _circuit(loaded: Loaded) -> tuple[str, str]:
    part = loaded[1].part
    return part.function, part.path


def _finding(case: CommandAnswer, wire: ConductorAnswer, others: int) -> Finding:
    part, bound = wire.part, limit("conductor-load")
    more = f" Over it as well: {plural(others, 'more wire')} of this circuit." if others else ""
    return Finding(
        rule=CODE,
        severity=_severity(case, wire),
        where=part.place,
        says=f"{part.size} carries {show_current(abs(wire.current_a))} under "
        f"{command_title(case.command)}; {show_current(wire.ampacity_a)} is the most in its "
        f"bundle.{more}",
        why="It runs hot while the current flows, and its insulation softens.",
        fix=_mend(wire),
        source=bound.source,
        value=abs(wire.current_a),
        limit=wire.ampacity_a,
        unit="A",
        station=part.station,
        command=case.command,
        standing=bound.standing,
    )


def _severity(case: CommandAnswer, wire: ConductorAnswer) -> Severity:
    """Grade an excess: for hours it is graver than for moments."""
    burns = wire.share > limit("wire-burns").share
    if is_momentary(case.command):
        return Severity.MUST if burns else Severity.SHOULD
    return Severity.DANGER if burns else Severity.MUST


def _mend(wire: ConductorAnswer) -> str:
    part = wire.part
    if part.size is None:
        return "Run a thicker wire, or take some of the load to a feed of its own."
    kept = min(wire.ampacity_a / alone_a(wire), 1.0)
    wanted = size_carrying(part.size, abs(wire.current_a), part.insulation, kept)
    if wanted is None:
        return "Take some of the load to a feed of its own: no single wire will do."
    return f"Run {wanted} in place of {part.size}, or take it out of the bundle."


RULE = Rule(CODE, "Wire over its ampacity", SOURCE, wires_overloaded)
