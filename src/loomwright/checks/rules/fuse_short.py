"""FUSE03: a fuse does not open in time on a short at the far end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.protected import FuseLine, fuse_lines
from loomwright.checks.readings import load_name
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuit
from loomwright.electrics.answers import ConductorAnswer
from loomwright.quantities import show_current
from loomwright.reference.fuses import opening_band
from loomwright.reference.insulation import withstand_a2s

CODE = "FUSE03"
SOURCE = "iso-8820-3; iec-60949; blade-fuse-sheets"

IN_TIME_S = 5.0
"""A short must be off within this: the formula for the heat of a short holds so long."""

POINTS = (2.0, 3.5, 6.0)
"""Currents over rating for which blade fuses have a published latest opening time."""


@dataclass(frozen=True, slots=True)
class Heated:
    """A wire that a short can hurt: heat let through against heat it stands. [A² s]"""

    wire: ConductorAnswer
    let_through_a2s: float
    stands_a2s: float


def fuses_too_slow_for_a_short(work: Work) -> Iterator[Finding]:
    """Flag each fuse that a short at the farthest load would not open within 5 s.

    The current of that short is the supply's EMF over the whole loop, wires hot and contacts
    aged. Below twice its rating a blade fuse may take minutes or never open, while the wire
    carries it. A fuse that does open in time is flagged if the heat it lets through, at the
    latest times printed for it, is more than the thinnest wire behind it stands (I²t against
    k²S²).
    """
    for line in fuse_lines(work):
        ratio = line.short_a / line.fuse.rating_a
        if opening_band(line.fuse.kind, ratio).max_s > IN_TIME_S:
            if _is_hurt(line):
                yield _too_little_current(work, line)
            continue
        hurt = _heated(line, ratio)
        if hurt is not None:
            yield _too_much_heat(line, hurt)


def _is_hurt(line: FuseLine) -> bool:
    """Whether the weakest wire cannot carry the short for as long as it lasts."""
    return any(line.short_a > wire.ampacity_a for wire in line.wires)


def _too_little_current(work: Work, line: FuseLine) -> Finding:
    fuse = line.fuse
    latest_s = opening_band(fuse.kind, line.short_a / fuse.rating_a).max_s
    slow = "may never open" if math.isinf(latest_s) else f"may take {_minutes(latest_s)}"
    weakest = min(line.wires, key=lambda wire: wire.ampacity_a)
    ends = {load.name: load for case in work.answers.by_case.values() for load in case.loads}
    far_end = load_name(work.rig, ends[line.far_end])
    return Finding(
        rule=CODE,
        severity=Severity.DANGER,
        where=fuse.place,
        says=f"{capital(circuit(fuse.function))}: a short at {far_end} "
        f"draws only {show_current(line.short_a)}; the {show_current(fuse.rating_a)} fuse {slow}, "
        f"and {weakest.part.size} carries {show_current(weakest.ampacity_a)}.",
        why="The wires would glow behind a fuse that sees nothing wrong.",
        fix=f"Fit a fuse of {show_current(line.short_a / 2)} or less, or run thicker wire out and "
        "home, so that a short draws at least twice the fuse's rating.",
        source=SOURCE,
        value=line.short_a,
        limit=2 * fuse.rating_a,
        unit="A",
        station="fuse",
        standing="common practice",
    )


def _minutes(seconds: float) -> str:
    return f"{seconds / 60:.0f} minutes" if seconds >= 120 else f"{seconds:.0f} seconds"


def _heated(line: FuseLine, ratio: float) -> Heated | None:
    """Return the wire that is hurt most, if any, at a current the short can reach."""
    reached = [point for point in POINTS if point <= ratio]
    heats = [
        (point * line.fuse.rating_a) ** 2 * opening_band(line.fuse.kind, point).max_s
        for point in reached
    ]
    let_through = max(heats, default=0.0)
    found = [
        Heated(wire, let_through, withstand_a2s(wire.part.size, wire.part.insulation))
        for wire in line.wires
        if wire.part.size is not None and wire.part.insulation is not None
    ]
    worst = min(found, key=lambda each: each.stands_a2s, default=None)
    return worst if worst is not None and worst.let_through_a2s > worst.stands_a2s else None


def _too_much_heat(line: FuseLine, hurt: Heated) -> Finding:
    fuse = line.fuse
    largest_a = fuse.rating_a * math.sqrt(hurt.stands_a2s / hurt.let_through_a2s)
    return Finding(
        rule=CODE,
        severity=Severity.MUST,
        where=fuse.place,
        says=f"{capital(circuit(fuse.function))}: before the {show_current(fuse.rating_a)} fuse "
        f"opens on a short it may let through more heat than {hurt.wire.part.size} stands, at the "
        f"{hurt.wire.part.place}.",
        why="The insulation softens in the seconds before the fuse opens.",
        fix=f"Fit a fuse of {show_current(largest_a)} or less, or run thicker wire there.",
        source=SOURCE,
        value=hurt.let_through_a2s,
        limit=hurt.stands_a2s,
        unit="A² s",
        station="fuse",
        standing="common practice",
    )


RULE = Rule(CODE, "Fuse too slow for a short at the far end", SOURCE, fuses_too_slow_for_a_short)
