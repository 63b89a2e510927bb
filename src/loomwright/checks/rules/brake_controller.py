"""BRAK05: electric brakes and nothing that drives them."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import plural
from loomwright.rig.model import Braking

CODE = "BRAK05"
SOURCE = "trade"


def brakes_without_controller(work: Work) -> Iterator[Finding]:
    """Flag electric brakes behind a vehicle that has no brake controller."""
    trailer, vehicle = work.rig.trailer, work.rig.vehicle
    needs_one = trailer.braking in (Braking.ELECTRIC, Braking.ELECTRIC_OVER_HYDRAULIC)
    if not needs_one or vehicle.brake_controller is not None:
        return
    brakes = plural(len(trailer.brakes), "magnet") if trailer.brakes else "an electric actuator"
    yield Finding(
        rule=CODE,
        severity=Severity.DANGER,
        where="vehicle, brake controller",
        says=f"The trailer brakes with {brakes}, and the vehicle has no brake controller.",
        why="Without one the trailer does not brake at all.",
        fix="Fit a brake controller for this number of brakes, with its own fused feed.",
        source=SOURCE,
        station="feed",
        standing="common practice",
    )


RULE = Rule(CODE, "Electric brakes without a controller", SOURCE, brakes_without_controller)
