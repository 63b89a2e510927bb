"""DROP02: 0.5 V may tell of a fault, 1 V certainly does. Workshop limits, common practice."""

from dataclasses import replace

import pytest
from tests.checks.builders import case_of, found, load, only, read, rung, solved, wire_part
from tests.rigs import brake_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.return_drop import RULE
from loomwright.quantities import WireSize


def home(lost_v: float) -> Work:
    ground = rung(wire_part("16", path="return", function="ground"), lost_v)
    reading = load("left rear", "tail", 12.0, return_drop_v=lost_v, ladder=(ground,))
    return read(brake_rig(), case_of("park", loads=[reading]))


@pytest.mark.parametrize(("lost_v", "severity"), [(0.51, Severity.SHOULD), (1.01, Severity.MUST)])
def test_severity_follows_the_loss(lost_v: float, severity: Severity) -> None:
    assert only(RULE, home(lost_v)).severity is severity


def test_half_a_volt_passes() -> None:
    assert not found(RULE, home(0.49))


def test_a_thin_ground_run_behind_brakes_shows_in_every_circuit() -> None:
    rig = brake_rig()
    run = {**rig.trailer.run, "ground": WireSize("awg", "16")}

    finding = only(RULE, solved(replace(rig, trailer=replace(rig.trailer, run=run))))

    assert "tail lamps" in finding.says
    assert "electric brakes" in finding.says
    assert finding.severity is Severity.MUST
