"""LAWS02: a lamp is too high, too low, or of the wrong colour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.checks.law import kind_words, needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital, listed
from loomwright.quantities import Units, show_length
from loomwright.reference.rules import Requirement
from loomwright.reference.rules import Rule as Law
from loomwright.rig.model import Lamp

CODE = "LAWS02"
SOURCE = "fmvss-108-table; un-r48-memo"


def lamps_out_of_place(work: Work) -> Iterator[Finding]:
    """Flag lamps outside the height their law gives, or of a colour it does not allow.

    Only lamps whose height is stated are judged; those on the wrong side of one bound are told
    together. A lamp above the usual height that stays under the one for bodies that leave no other
    place is a note. Colour is judged where a lamp counts as one kind only, for a housing of several
    kinds may have several colours.
    """
    misplaced: dict[tuple[Severity, float], list[Misplaced]] = {}
    for law, need in needs(work.rig, "lamp"):
        for lamp in work.rig.trailer.lamps:
            if need.kind in lamp.counts_as:
                yield from _colour(law, need, lamp)
                for each in _heights(law, need, lamp):
                    misplaced.setdefault((each.severity, each.bound_m), []).append(each)
    for (severity, bound_m), alike in misplaced.items():
        yield _height(severity, bound_m, alike, work.rig.units)


@dataclass(frozen=True, slots=True)
class Misplaced:
    """A lamp too high or too low for one kind it counts as, and the bound it is beyond. [m]"""

    law: Law
    kind: str
    lamp: Lamp
    height_m: float
    bound_m: float
    severity: Severity


def _heights(law: Law, need: Requirement, lamp: Lamp) -> Iterator[Misplaced]:
    span, bound_m = need.height_mm, None
    if lamp.height_m is not None and span is not None and not span.holds(1000 * lamp.height_m):
        bound_m = _nearest_m(need, lamp.height_m)
    if lamp.height_m is None or span is None or bound_m is None:
        return
    height_mm, forced_mm = 1000 * lamp.height_m, need.height_if_forced_mm
    excused = forced_mm is not None and (span.from_mm or 0.0) < height_mm <= forced_mm
    severity = Severity.NOTE if excused else Severity.MUST
    yield Misplaced(law, need.kind, lamp, lamp.height_m, bound_m, severity)


def _height(severity: Severity, bound_m: float, alike: list[Misplaced], units: Units) -> Finding:
    worst = max(alike, key=lambda each: abs(each.height_m - bound_m))
    low = worst.height_m < bound_m
    names = listed(list(dict.fromkeys(each.lamp.name for each in alike)))
    kinds = listed(list(dict.fromkeys(kind_words(each.kind) for each in alike)))
    word = "low" if low else "high"
    return Finding(
        rule=CODE,
        severity=severity,
        where=f"{worst.lamp.name} lamp",
        says=f"Too {word}: {names}, {show_length(worst.height_m, units)} up. At "
        f"{'least' if low else 'most'} {show_length(bound_m, units)} is asked for as {kinds} "
        f"({worst.law.citation}).",
        why="Outside these heights the driver behind does not see them."
        if len(alike) > 1
        else worst.law.statement,
        fix="Leave it only if the body has no other place."
        if severity is Severity.NOTE
        else f"Move {'it' if len({each.lamp.name for each in alike}) == 1 else 'them'} "
        f"{'up' if low else 'down'}.",
        source="; ".join(dict.fromkeys(each.law.row.source for each in alike)),
        value=worst.height_m,
        limit=bound_m,
        unit="m",
        station="load",
        standing=worst.law.row.standing,
    )


def _nearest_m(need: Requirement, height_m: float) -> float | None:
    span = need.height_mm
    if span is None:
        return None
    ends = [end / 1000 for end in (span.from_mm, span.to_mm) if end is not None]
    return min(ends, key=lambda end: abs(end - height_m), default=None)


def _colour(law: Law, need: Requirement, lamp: Lamp) -> Iterator[Finding]:
    if len(lamp.counts_as) != 1 or not need.colours or lamp.colour in need.colours:
        return
    yield Finding(
        rule=CODE,
        severity=Severity.MUST,
        where=f"{lamp.name} lamp",
        says=f"{capital(kind_words(need.kind))} {lamp.name} is {lamp.colour}; "
        f"{' or '.join(need.colours)} is asked for ({law.citation}).",
        why=law.statement,
        fix=f"Fit a lamp that is {' or '.join(need.colours)}.",
        source=law.row.source,
        station="load",
        standing=law.row.standing,
    )


RULE = Rule(CODE, "Lamp out of place or of the wrong colour", SOURCE, lamps_out_of_place)
