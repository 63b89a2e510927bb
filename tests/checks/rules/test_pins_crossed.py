"""PINS01: brake and 12 V are met exchanged on the six-way. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.pins_crossed import RULE

EXCHANGED = {"brake": "battery", "battery": "brake"}


def test_brake_and_charge_exchanged_in_the_plug_is_a_danger() -> None:
    rig = brake_rig()
    cord = tuple(
        replace(wire, function=EXCHANGED.get(wire.function, wire.function))
        for wire in rig.trailer.cord
    )
    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, cord=cord))))

    assert finding.severity is Severity.DANGER
    assert "electric brakes against battery feed" in finding.says
    assert not found(RULE, unsolved(rig))
