"""DROP02: 0.5 V may tell of a fault, 1 V certainly does. Workshop limits, common practice."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, part, read, rung, solved, wire_part
from tests.rigs import brake_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.return_drop import RULE
from loomwright.quantities import WireSize


def home(lost_v: float, *, in_joint: bool = False, lamp_v: float = 12.5) -> Work:
    ground = rung(wire_part("16", path="return", function="ground"), lost_v)
    screw = part("joint", path="return", function="ground", joint_kind="frame-screw")
    ladder = (rung(screw, lost_v) if in_joint else ground,)
    reading = load("left rear", "tail", lamp_v, return_drop_v=lost_v, ladder=ladder)
    return read(brake_rig(), case_of("park", loads=[reading]))


def test_over_half_a_volt_in_joints_or_with_weak_lamps_should_be_mended() -> None:
    """A 1157 minor asks for 0.85 x 14.0 = 11.9 V."""
    assert only(RULE, home(0.6, in_joint=True)).severity is Severity.SHOULD
    assert only(RULE, home(0.6, lamp_v=11.8)).severity is Severity.SHOULD


def test_over_half_a_volt_in_the_copper_of_a_sound_trailer_passes() -> None:
    assert not found(RULE, home(0.6))


def test_over_one_volt_is_proof_and_must_be_mended_where_lamps_suffer() -> None:
    assert only(RULE, home(1.01)).severity is Severity.SHOULD
    assert only(RULE, home(1.01, lamp_v=11.8)).severity is Severity.MUST


def test_half_a_volt_passes() -> None:
    assert not found(RULE, home(0.49, in_joint=True, lamp_v=11.8))


def test_a_thin_ground_run_behind_brakes_shows_in_every_circuit() -> None:
    rig = brake_rig()
    run = {**rig.trailer.run, "ground": WireSize("awg", "16")}

    finding = only(RULE, solved(replace(rig, trailer=replace(rig.trailer, run=run))))

    assert "tail lamps" in finding.says
    assert "electric brakes" in finding.says
    assert finding.severity.to_mend
