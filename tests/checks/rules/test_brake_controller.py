"""BRAK05: electric brakes need a controller. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.brake_controller import RULE


def test_no_controller_is_a_danger() -> None:
    rig = brake_rig()
    without = replace(rig, vehicle=replace(rig.vehicle, brake_controller=None))

    assert only(RULE, unsolved(without)).severity is Severity.DANGER
    assert not found(RULE, unsolved(rig))
