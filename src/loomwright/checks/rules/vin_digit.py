"""VINS01: the vehicle number does not check."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.checks.rule import Finding, Rule, Severity, Work
from loomwright.checks.words import capital
from loomwright.rig.vin import vin_check

CODE = "VINS01"
SOURCE = "memory"


def vin_does_not_check(work: Work) -> Iterator[Finding]:
    """Note a vehicle identification number whose form or check digit is wrong.

    49 CFR 565.15(c): the ninth character follows from the others. Vehicles built for other
    markets may carry any character there.
    """
    vin = work.rig.vehicle.vin
    if not vin:
        return
    found = vin_check(vin)
    if found.valid_format and found.check_digit_ok:
        return
    yield Finding(
        rule=CODE,
        severity=Severity.NOTE,
        where="vehicle identification number",
        says=f"{vin}: {capital(found.says)}.",
        why="A record under the wrong number is no record.",
        fix="Read the number again from the plate behind the windscreen or the door pillar.",
        source=SOURCE,
        station="battery",
        standing="memory",
    )


RULE = Rule(CODE, "Vehicle number does not check", SOURCE, vin_does_not_check)
