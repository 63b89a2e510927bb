"""AWAY01: 15 minutes (DC municipal regulation 18-721; 49 CFR 393.43(d)).

Four 12-inch magnets of 3.2 ohm take 15 A at 12 V. Peukert with exponent 1.2 for 20 hours:
5 Ah: 20 h (5 / 20 / 15)^1.2 = 0.147 h = 8.8 min; 9 Ah: 17.9 min.
"""

import math
from dataclasses import replace

import pytest
from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.breakaway_battery import RULE
from loomwright.rig.model import Breakaway


def battery_of(capacity_ah: float) -> Work:
    rig = brake_rig()
    breakaway = Breakaway(capacity_ah, "battery", 0.5)
    return unsolved(replace(rig, trailer=replace(rig.trailer, breakaway=breakaway)))


def test_5_ah_is_too_small_for_four_magnets_and_9_ah_is_enough() -> None:
    finding = only(RULE, battery_of(5.0))

    assert finding.value == pytest.approx(20 * math.pow(5 / 20 / 15, 1.2) * 60)
    assert "9 Ah" in finding.fix.replace("\u00a0", " ")
    assert not found(RULE, battery_of(9.0))


def test_without_magnets_there_is_nothing_to_hold() -> None:
    rig = battery_of(1.0).rig

    assert not found(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, brakes=()))))
