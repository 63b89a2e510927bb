"""GRND04: the frame as a return. Common practice; Australia asks for an earth conductor."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig, simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.ground_frame import RULE
from loomwright.rig.model import Returns, Rig


def by_frame(rig: Rig, kind: str = "utility") -> Rig:
    return replace(rig, trailer=replace(rig.trailer, returns=Returns.FRAME, kind=kind))


def test_a_welded_frame_with_lamps_is_a_note_and_a_boat_trailer_should_be_changed() -> None:
    assert only(RULE, unsolved(by_frame(simple_rig()))).severity is Severity.NOTE
    assert only(RULE, unsolved(by_frame(simple_rig(), "boat"))).severity is Severity.SHOULD
    assert only(RULE, unsolved(by_frame(brake_rig()))).severity is Severity.SHOULD


def test_a_ground_wire_passes() -> None:
    assert not found(RULE, unsolved(simple_rig()))


def test_australia_is_cited_there() -> None:
    rig = replace(by_frame(simple_rig()), jurisdiction="AU")

    assert "vsb-1-wiring" in only(RULE, unsolved(rig)).source
