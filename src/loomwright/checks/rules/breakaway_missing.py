"""AWAY02: electric brakes without a breakaway battery."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.electrics.carriers import carrier
from loomwright.reference.rules import Rule as Law
from loomwright.rig.model import Braking, Breakaway, Rig

CODE = "AWAY02"
SOURCE = "cfr-49-393-43; dcmr-18-721"


def breakaway_missing(work: Work) -> Iterator[Finding]:
    """Flag electric brakes without a breakaway battery, and a battery that nothing charges."""
    trailer = work.rig.trailer
    electric = trailer.braking in (Braking.ELECTRIC, Braking.ELECTRIC_OVER_HYDRAULIC)
    if trailer.breakaway is None:
        if electric:
            yield _missing(_law(work.rig))
    elif not _is_charged(work.rig, trailer.breakaway):
        yield _uncharged(trailer.breakaway)


def _law(rig: Rig) -> Law | None:
    """Return the rule that asks for one, if any binds this very trailer."""
    laws = (law for law, need in needs(rig, "breakaway") if need.kind == "breakaway")
    return next(laws, None)


def _missing(law: Law | None) -> Finding:
    asked = "" if law is None else f" It is asked for ({law.citation})."
    return Finding(
        rule=CODE,
        severity=Severity.DANGER,
        where="trailer tongue",
        says=f"The trailer has electric brakes, and the rig lists no breakaway battery.{asked}",
        why="A trailer that comes off the hitch rolls on without brakes.",
        fix="Fit a breakaway switch and a charged battery, with the lanyard to the vehicle, and "
        "test it with the trailer unplugged.",
        source=SOURCE if law is None else law.row.source,
        station="junction",
        standing="found" if law is None else law.row.standing,
    )


def _is_charged(rig: Rig, breakaway: Breakaway) -> bool:
    if not breakaway.charged_by:
        return False
    corded = [wire.function for wire in rig.trailer.cord]
    return carrier(breakaway.charged_by, corded) is not None


def _uncharged(breakaway: Breakaway) -> Finding:
    by = f"by {breakaway.charged_by} " if breakaway.charged_by else ""
    return Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where="breakaway battery",
        says=f"The breakaway battery is to be charged {by}and no wire of the cord does that.",
        why="It empties within months, and nobody sees it.",
        fix="Bring a supply wire to it through the plug, or charge and test it before every trip.",
        source="breakaway-guides",
        station="junction",
        standing="common practice",
    )


RULE = Rule(CODE, "Breakaway battery missing or not charged", SOURCE, breakaway_missing)
