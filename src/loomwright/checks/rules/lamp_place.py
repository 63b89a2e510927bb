"""LAWS02: a lamp is too high, too low, or of the wrong colour."""

from __future__ import annotations

from collections.abc import Iterator

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

    Only lamps whose height is stated are judged. A lamp above the usual height that stays under
    the one for bodies that leave no other place is a note. Colour is judged where a lamp counts
    as one kind only, for a housing of several kinds may have several colours.
    """
    for law, need in needs(work.rig, "lamp"):
        for lamp in work.rig.trailer.lamps:
            if need.kind in lamp.counts_as:
                yield from _height(law, need, lamp, work.rig.units)
                yield from _colour(law, need, lamp)


def _height(law: Law, need: Requirement, lamp: Lamp, units: Units) -> Iterator[Finding]:
    span = need.height_mm
    if lamp.height_m is None or span is None or span.holds(1000 * lamp.height_m):
        return
    height_mm, forced_mm = 1000 * lamp.height_m, need.height_if_forced_mm
    excused = forced_mm is not None and (span.from_mm or 0.0) < height_mm <= forced_mm
    bounds = [
        f"{word} {show_length(bound_mm / 1000, units)}"
        for word, bound_mm in (("at least", span.from_mm), ("at most", span.to_mm))
        if bound_mm is not None
    ]
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE if excused else Severity.MUST,
        where=f"{lamp.name} lamp",
        says=f"{capital(kind_words(need.kind))} {lamp.name} is {show_length(lamp.height_m, units)} "
        f"up; {listed(bounds)} is asked for ({law.citation}).",
        why=law.statement,
        fix="Leave it only if the body has no other place." if excused else "Move it.",
        source=law.row.source,
        value=lamp.height_m,
        limit=_nearest_m(need, lamp.height_m),
        unit="m",
        station="load",
        standing=law.row.standing,
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
