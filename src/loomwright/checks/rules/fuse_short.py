"""FUSE03: a fuse does not open in time on a short at the far end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.protected import FuseLine, fuse_lines
from loomwright.checks.readings import load_name
from loomwright.checks.remedy import alone_a
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuits, plural
from loomwright.electrics.answers import ConductorAnswer
from loomwright.quantities import show_current
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST, opening_band, ratings
from loomwright.reference.insulation import insulation, withstand_a2s

CODE = "FUSE03"
SOURCE = "iso-8820-3; iec-60949; blade-fuse-sheets"

IN_TIME_S = 5.0
"""So long the formula for the heat of a short circuit holds."""

SOON_S = 60.0
"""A wire takes about a minute to come near its final temperature. Assumption."""

TABLE_AIR_C = 30.0
"""Air that the ampacities are for."""

POINTS = (2.0, 3.5, 6.0)
"""Currents over rating for which blade fuses have a published latest opening time."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What a short at the far end does: how grave, and to which wire."""

    line: FuseLine
    severity: Severity
    wire: ConductorAnswer
    too_hot: bool


def fuses_too_slow_for_a_short(work: Work) -> Iterator[Finding]:
    """Flag each fuse that a short at the farthest load does not open before a wire is hurt.

    The current of that short is the supply's EMF over the whole loop, with wires hot and contacts
    aged. A blade fuse opens in time from twice its rating on; then the heat it lets through, at
    the latest times printed for it, is held against what the thinnest wire stands (I²t against
    k²S²). With less current the fuse takes minutes or stays whole: then the wire's own
    temperature is estimated from its ampacity, heat growing with the square of the current, and
    it is a danger where that passes what the insulation stands.
    """
    groups: dict[tuple[float, Severity, str], list[Judged]] = {}
    for line in fuse_lines(work):
        judged = _judged(line)
        if judged is not None:
            key = line.fuse.rating_a, judged.severity, str(judged.wire.part.size)
            groups.setdefault(key, []).append(judged)
    for alike in groups.values():
        yield _finding(work, alike)


def _judged(line: FuseLine) -> Judged | None:
    ratio = line.short_a / line.fuse.rating_a
    latest_s = opening_band(line.fuse.kind, ratio).max_s
    if not line.wires:
        return None
    if latest_s <= IN_TIME_S:
        wire = _hurt_by_heat(line, ratio)
        return None if wire is None else Judged(line, Severity.MUST, wire, too_hot=True)
    wire = max(line.wires, key=lambda each: _warmed_c(each, line.short_a) - _stands_c(each))
    too_hot = _warmed_c(wire, line.short_a) > _stands_c(wire)
    if too_hot:
        severity = Severity.MUST if latest_s <= SOON_S else Severity.DANGER
        return Judged(line, severity, wire, too_hot=True)
    weakest = min(line.wires, key=lambda each: each.ampacity_a)
    if latest_s > SOON_S and line.short_a > weakest.ampacity_a:
        return Judged(line, Severity.SHOULD, weakest, too_hot=False)
    return None


def _warmed_c(wire: ConductorAnswer, current_a: float) -> float:
    """Temperature of a wire that carries a current for long, alone in air. [°C]"""
    if wire.part.insulation is None:
        return TABLE_AIR_C
    max_c = insulation(wire.part.insulation).max_c
    return TABLE_AIR_C + (max_c - TABLE_AIR_C) * (current_a / alone_a(wire)) ** 2


def _stands_c(wire: ConductorAnswer) -> float:
    kind = wire.part.insulation
    return math.inf if kind is None else insulation(kind).short_circuit_c


def _hurt_by_heat(line: FuseLine, ratio: float) -> ConductorAnswer | None:
    """Return the wire whose insulation stands least, if a current the short reaches hurts it."""
    known = [
        (withstand_a2s(wire.part.size, wire.part.insulation), wire)
        for wire in line.wires
        if wire.part.size is not None and wire.part.insulation is not None
    ]
    if not known:
        return None
    stands_a2s, wire = min(known, key=lambda each: each[0])
    return wire if _let_through_a2s(line, ratio) > stands_a2s else None


def _let_through_a2s(line: FuseLine, ratio: float) -> float:
    """Largest I²t before the fuse opens, of the printed points the short reaches. [A² s]"""
    return max(
        (point * line.fuse.rating_a) ** 2 * opening_band(line.fuse.kind, point).max_s
        for point in POINTS
        if point <= ratio
    )


def _finding(work: Work, alike: list[Judged]) -> Finding:
    worst = min(alike, key=lambda each: each.line.short_a)
    line, wire = worst.line, worst.wire
    fuse, short_a = line.fuse, line.short_a
    ends = {load.name: load for case in work.answers.by_case.values() for load in case.loads}
    far_end = load_name(work.rig, ends[line.far_end])
    latest_s = opening_band(fuse.kind, short_a / fuse.rating_a).max_s
    names = capital(circuits(each.line.fuse.function for each in alike))
    harm = "too hot for its insulation" if worst.too_hot else "over its ampacity"
    return Finding(
        rule=CODE,
        severity=worst.severity,
        where=fuse.place,
        says=f"{names}: a short at {far_end} draws {show_current(short_a)}; the "
        f"{show_current(fuse.rating_a)} fuse {_opens(latest_s)}, and until then "
        f"{wire.part.size} ({wire.part.place}) is {harm}.",
        why="The wires heat behind a fuse that sees little wrong.",
        fix=_mend(worst, latest_s),
        source=SOURCE,
        value=short_a,
        limit=2 * fuse.rating_a,
        unit="A",
        station="fuse",
        standing="common practice",
    )


def _opens(latest_s: float) -> str:
    if math.isinf(latest_s):
        return "may never open"
    if latest_s >= 120:
        return f"may take {latest_s / 60:.0f} minutes"
    return f"may take {plural(round(latest_s), 'second')}" if latest_s >= 1 else "opens at once"


def _mend(judged: Judged, latest_s: float) -> str:
    line = judged.line
    if latest_s <= IN_TIME_S:
        return f"Run thicker wire as {judged.wire.part.place}, or fit the next smaller fuse."
    load_a = max(abs(wire.current_a) for wire in line.wires) / CONTINUOUS_SHARE_MOST
    made = [each for each in ratings(line.fuse.kind) if load_a <= each <= line.short_a / 2]
    smaller = f"Fit a {show_current(made[-1])} fuse, or run" if made else "Run"
    return (
        f"{smaller} thicker wire out and home, so that a short draws at least twice the fuse's "
        "rating."
    )


RULE = Rule(CODE, "Fuse too slow for a short at the far end", SOURCE, fuses_too_slow_for_a_short)
