"""BRAK04: surge brakes and no reverse feed to release them."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.rig.model import Braking, Rig

CODE = "BRAK04"
SOURCE = "trade-5-flat"

RELEASED_BY_THEMSELVES = frozenset({"EU", "UN", "GB"})
"""Where overrun brakes free themselves when backing. Common practice."""


def surge_without_reverse(work: Work) -> Iterator[Finding]:
    """Flag surge brakes that get no reverse feed for their lockout valve.

    Backing up pushes the coupler together and applies the brakes, disc brakes above all. A
    lockout fed by the reverse lamps releases them; some drum brakes release by themselves, as
    European overrun brakes do, so nothing is said there.
    """
    if not needs_reverse(work.rig):
        return
    missing = _missing(work.rig)
    if not missing:
        return
    yield Finding(
        rule=CODE,
        severity=Severity.SHOULD,
        where="reverse lockout of the coupler",
        says=f"The trailer has surge brakes, and reverse does not reach them: {missing}.",
        why="Surge brakes lock the wheels when the trailer is pushed back.",
        fix="Bring the reverse lamp feed to the lockout valve by a socket with a reverse pin, or "
        "make sure that the brakes are of a kind that frees itself when backing.",
        source=SOURCE,
        station="socket",
        standing="common practice",
    )


def needs_reverse(rig: Rig) -> bool:
    """Whether reverse has to reach the coupler."""
    return rig.trailer.braking is Braking.SURGE and rig.jurisdiction not in RELEASED_BY_THEMSELVES


def _missing(rig: Rig) -> str:
    if rig.vehicle.feed_for("reverse") is None:
        return "the vehicle lists no reverse feed"
    if rig.towing_socket.wire_for("reverse") is None:
        return "the socket has no reverse wire"
    if rig.trailer.cord_wire_for("reverse") is None:
        return "the trailer cord has no reverse wire"
    return ""


RULE = Rule(CODE, "Surge brakes without a reverse feed", SOURCE, surge_without_reverse)
