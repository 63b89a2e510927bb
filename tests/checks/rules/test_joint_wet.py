"""JOIN01: splices outside are waterproof. Source: MIL-S-52124B; 13 CCR 1249(c)."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import lamp, simple_rig, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.joint_wet import RULE
from loomwright.rig.model import Join


def test_plain_butts_at_the_lamps_should_be_changed_and_are_told_together() -> None:
    rig = simple_rig()
    lamps = tuple(lamp(f"lamp {n}", "left", 3.0, joint="butt") for n in range(6))

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, lamps=lamps))))

    assert finding.severity is Severity.SHOULD
    assert "3 more" in finding.says


def test_new_splices_must_be_sealed() -> None:
    rig = simple_rig()
    socket = replace(rig.sockets[0], join=Join.CUT, joint="butt")

    finding = only(RULE, unsolved(replace(rig, sockets=(socket,))))

    assert finding.severity is Severity.MUST


def test_piercing_taps_are_found_even_in_the_dry() -> None:
    assert "converter" in only(RULE, unsolved(van_rig())).where


def test_sealed_butts_pass() -> None:
    assert not found(RULE, unsolved(simple_rig()))
