"""GRND03: the ball is no ground. Common practice; 13 CCR 1249(a) asks for ground between units."""

from dataclasses import replace

from tests.checks.builders import case_of, found, joint, only, part, read, solved, unsolved
from tests.rigs import simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.ground_path import RULE


def test_a_cord_without_ground_is_a_danger() -> None:
    rig = simple_rig()
    cord = tuple(wire for wire in rig.trailer.cord if wire.function != "ground")

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, cord=cord))))

    assert finding.severity is Severity.DANGER


def test_a_ring_on_paint_must_be_mended() -> None:
    ring = part("joint", "return", "ground", joint_kind="ring-terminal-painted")
    work = read(simple_rig(), case_of("park", joints=[joint(ring, 0.05, 4.0)]))

    assert only(RULE, work).severity is Severity.MUST


def test_a_hitch_that_is_counted_is_noted_and_a_sound_rig_passes() -> None:
    rig = simple_rig()
    counted = replace(rig, trailer=replace(rig.trailer, hitch_path_ohm=0.05))

    assert only(RULE, unsolved(counted)).severity is Severity.NOTE
    assert not found(RULE, solved(rig))
