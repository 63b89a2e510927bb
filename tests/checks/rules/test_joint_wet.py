"""JOIN01: splices outside are waterproof. Source: MIL-S-52124B; 13 CCR 1249(c)."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig, lamp, simple_rig, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.joint_wet import RULE
from loomwright.rig.model import Assumption, Join


def test_plain_butts_at_the_lamps_should_be_changed_and_are_told_together() -> None:
    rig = simple_rig()
    lamps = tuple(lamp(f"lamp {n}", "left", 3.0, joint="butt") for n in range(6))

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, lamps=lamps))))

    assert finding.severity is Severity.SHOULD
    assert "3 more" in finding.says


def test_a_joint_that_was_only_assumed_is_not_judged() -> None:
    rig = simple_rig()
    lamps = (lamp("lamp", "left", 3.0, joint="butt"),)
    assumed = Assumption("trailer.lamp.joint", "butt", "usual", "trade", "common practice")
    trailer = replace(rig.trailer, lamps=lamps)

    assert not found(RULE, unsolved(replace(rig, trailer=trailer, assumptions=(assumed,))))


def test_new_splices_should_be_sealed_and_brakes_must_not_hang_on_twist_on_connectors() -> None:
    for rig, kind, severity in (
        (simple_rig(), "butt", Severity.SHOULD),
        (brake_rig(), "butt", Severity.SHOULD),
        (brake_rig(), "wire-nut", Severity.MUST),
    ):
        socket = replace(rig.sockets[0], join=Join.CUT, joint=kind)

        assert only(RULE, unsolved(replace(rig, sockets=(socket,)))).severity is severity


def test_piercing_taps_are_found_even_in_the_dry() -> None:
    assert "converter" in only(RULE, unsolved(van_rig())).where


def test_sealed_butts_pass() -> None:
    assert not found(RULE, unsolved(simple_rig()))
