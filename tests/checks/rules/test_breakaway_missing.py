"""AWAY02: brakes apply by themselves when the trailer comes off (49 CFR 393.43(d))."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig, simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.breakaway_missing import RULE
from loomwright.rig.model import Breakaway


def test_electric_brakes_without_one_are_a_danger() -> None:
    assert only(RULE, unsolved(brake_rig())).severity is Severity.DANGER
    assert "393.43" in only(RULE, unsolved(brake_rig(commercial=True))).says


def test_one_that_is_charged_passes_and_one_that_is_not_should_be() -> None:
    rig = brake_rig()
    charged = replace(rig.trailer, breakaway=Breakaway(12.0, "battery", 0.5))
    alone = replace(rig.trailer, breakaway=Breakaway(12.0, "", 0.5))

    assert not found(RULE, unsolved(replace(rig, trailer=charged)))
    assert only(RULE, unsolved(replace(rig, trailer=alone))).severity is Severity.SHOULD
    assert not found(RULE, unsolved(simple_rig()))
