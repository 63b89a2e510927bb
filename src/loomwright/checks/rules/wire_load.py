"""WIRE01: a conductor carries more than it may."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.readings import HEAVY, NOMINAL, cases, worst_by
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

FAR_OVER = 1.5
"""Times its ampacity from which a wire is hot enough to burn what lies on it."""

Loaded = tuple[CommandAnswer, ConductorAnswer]


def wires_overloaded(work: Work) -> Iterator[Finding]:
    """Flag each circuit with a conductor over its ampacity in its bundle.

    Every command counts, with the largest currents that can be met: highest charging voltage,
    frost, new contacts. Ampacity is that of a boat wire of the same insulation in air of 30 °C,
    reduced for the loaded wires beside it; no table for vehicles was found that is open to read.
    """
    most = limit("conductor-load").share * (1 + NEAR)
    over = [
        (case, wire)
        for case in cases(work, NOMINAL, HEAVY, everything=True)
        for wire in case.conductors
        if wire.share > most
    ]
    worst = worst_by(over, _circuit, _badness)
    for circuit, (case, wire) in worst.items():
        places = {each.part.place for case_, each in over if _circuit((case_, each)) == circuit}
        yield _finding(case, wire, len(places) - 1)


def _badness(loaded: Loaded) -> tuple[int, float]:
    """Rank by severity, then by excess."""
    return -_severity(*loaded).rank, loaded[1].share


def _circuit(loaded: Loaded) -> tuple[str, str]:
    part = loaded[1].part
    return part.function, part.path


def _finding(case: CommandAnswer, wire: ConductorAnswer, others: int) -> Finding:
    part, bound = wire.part, limit("conductor-load")
    more = f" Over it as well: {plural(others, 'more wire')} of this circuit." if others else ""
    frost = " in frost with the highest charging voltage" if case.conditions == HEAVY else ""
    return Finding(
        rule=CODE,
        severity=_severity(case, wire),
        where=part.place,
        says=f"{part.size} carries {show_current(abs(wire.current_a))} under "
        f"{command_title(case.command)}{frost}; {show_current(wire.ampacity_a)} is the most in "
        f"its bundle.{more}",
        why="It runs hot for as long as the current flows, and its insulation softens.",
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
    """Grade an excess; one met only in frost is less, for the table is for air of 30 °C."""
    far_over = wire.share > FAR_OVER
    if case.conditions == HEAVY:
        return Severity.MUST if far_over else Severity.SHOULD
    return Severity.DANGER if far_over else Severity.MUST


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
