"""LAWS05: the law asks for brakes and the trailer has none."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.law import needs
from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.quantities import show_mass
from loomwright.rig.model import Braking

CODE = "LAWS05"
SOURCE = "cfr-49-393-brakes; adr-38-summary"


def brakes_missing(work: Work) -> Iterator[Finding]:
    """Flag a trailer without brakes that is so heavy that its law asks for them.

    State limits for private towing in the US differ widely and are not in the tables, save the
    few that were found; so a private trailer there may need brakes and not be flagged.
    """
    trailer = work.rig.trailer
    if trailer.braking is not Braking.NONE:
        return
    for law, need in needs(work.rig, "brake", "breakaway"):
        if need.kind == "service_brake":
            yield Finding(
                rule=CODE,
                severity=Severity.MUST,
                where="trailer brakes",
                says=f"The trailer of {show_mass(trailer.gross_mass_kg, work.rig.units)} lists no "
                f"brakes, and they are asked for ({law.citation}).",
                why=law.statement,
                fix="Have brakes fitted before towing at that mass, or correct the rig.",
                source=law.row.source,
                value=trailer.gross_mass_kg,
                unit="kg",
                station="load",
                standing=law.row.standing,
            )
            return


RULE = Rule(CODE, "Brakes missing that the law asks for", SOURCE, brakes_missing)
