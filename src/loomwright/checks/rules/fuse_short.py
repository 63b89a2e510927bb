"""FUSE03: a fuse does not open in time on a short at the far end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.protected import HOT_WIRE_C, FuseLine, fuse_lines
from loomwright.checks.readings import load_name
from loomwright.checks.remedy import alone_a
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, circuits, plural
from loomwright.electrics.answers import ConductorAnswer
from loomwright.quantities import WireSize, show_current
from loomwright.reference.conductors import area_mm2, resistance_ohm_per_m
from loomwright.reference.fuses import CONTINUOUS_SHARE_MOST, opening_band, ratings
from loomwright.reference.insulation import insulation, short_circuit_k

CODE = "FUSE03"
SOURCE = "iso-8820-3; iec-60949; blade-fuse-sheets"

IN_TIME_S = 5.0
"""So long the formula for the heat of a short circuit holds."""

TABLE_AIR_C = 30.0
"""Air that the ampacities are for."""

COPPER_HEAT = 3.45e6
"""Heat that warms a cubic metre of copper by one degree. [J/(m³ K)] Source: iec-60949."""

POINTS = (2.0, 3.5, 6.0)
"""Currents over rating for which blade fuses have a published latest opening time."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What a short at the far end does: how grave, and to which wire."""

    line: FuseLine
    severity: Severity
    wire: ConductorAnswer


def fuses_too_slow_for_a_short(work: Work) -> Iterator[Finding]:
    """Flag each fuse that a short at the farthest load does not open before a wire is hurt.

    The current of that short is the supply's EMF over the whole loop, with hot wires and with
    contacts as old as the trailer. A blade fuse opens in time from twice its rating on; then the
    heat it lets through, at the latest times printed for it, is held against what the thinnest
    wire stands (I²t against k²S²). With less current it takes seconds to minutes, and the wire
    warms towards a final temperature that grows with the square of the current over its
    ampacity: told is only what passes the temperature its insulation stands for a short time. A
    fuse that such a current may never open, under 1.35 times its rating, is a danger; a wire that
    is hurt before its fuse opens must be mended.
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
        hurt = _hurt_by_heat(line, ratio)
        return None if hurt is None else Judged(line, Severity.MUST, hurt)
    wire = max(
        line.wires, key=lambda each: _warmed_c(each, line.short_a, latest_s) - _stands_c(each)
    )
    if _warmed_c(wire, line.short_a, latest_s) <= _stands_c(wire):
        return None
    never = math.isinf(latest_s)
    return Judged(line, Severity.DANGER if never else Severity.MUST, wire)


def _warmed_c(wire: ConductorAnswer, current_a: float, time_s: float) -> float:
    """Temperature of a wire, alone in air, that carries a current for so long. [°C]

    It warms at first as copper that gives off no heat, and in the end by the square of the
    current over its ampacity; between the two exponentially. Insulation, which warms along, is
    left out: the wire is told hotter than it is.
    """
    part = wire.part
    if part.insulation is None or part.size is None:
        return TABLE_AIR_C
    rise_k = (insulation(part.insulation).max_c - TABLE_AIR_C) * (current_a / alone_a(wire)) ** 2
    heat_w_per_m = current_a**2 * resistance_ohm_per_m(part.size)
    first_k_per_s = heat_w_per_m / (COPPER_HEAT * area_mm2(part.size) * 1e-6)
    return TABLE_AIR_C - rise_k * math.expm1(-time_s * first_k_per_s / rise_k)


def _stands_c(wire: ConductorAnswer) -> float:
    kind = wire.part.insulation
    return math.inf if kind is None else insulation(kind).short_circuit_c


def _hurt_by_heat(line: FuseLine, ratio: float) -> ConductorAnswer | None:
    """Return the wire whose insulation stands least, if a current the short reaches hurts it."""
    known = [
        (_withstand_a2s(wire.part.size, wire.part.insulation), wire)
        for wire in line.wires
        if wire.part.size is not None and wire.part.insulation is not None
    ]
    if not known:
        return None
    stands_a2s, wire = min(known, key=lambda each: each[0])
    return wire if _let_through_a2s(line, ratio) > stands_a2s else None


def _withstand_a2s(size: WireSize, kind: str) -> float:
    """I²t that hurts a wire that is warm from the sun and its load. [A² s]"""
    return (short_circuit_k(kind, HOT_WIRE_C) * area_mm2(size)) ** 2


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
    return Finding(
        rule=CODE,
        severity=worst.severity,
        where=fuse.place,
        says=f"{names}: a short at {far_end} draws {show_current(short_a)}; the "
        f"{show_current(fuse.rating_a)} fuse {_opens(latest_s)}, and until then "
        f"{wire.part.size} ({wire.part.place}) grows too hot for its insulation.",
        why="The wire burns behind a fuse that sees little wrong.",
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
