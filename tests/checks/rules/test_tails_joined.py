"""TAIL01: contacts 5 and 7 are the tail lamps of each side, 58R and 58L (ISO 1724, ISO 11446-1)."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import caravan_rig, feed, simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.tails_joined import RULE


def test_one_conductor_for_both_sides_behind_the_plug_must_be_parted() -> None:
    rig = caravan_rig(jurisdiction="GB")
    apart = dict(rig.trailer.run)
    size = apart.pop("tail_left")
    apart.pop("tail_right")
    joined = {**apart, "tail": size}

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, run=joined))))

    assert finding.severity is Severity.MUST


def test_one_feed_of_the_vehicle_for_both_pins_is_a_note_and_two_pass() -> None:
    rig = caravan_rig(jurisdiction="GB")
    others = tuple(each for each in rig.vehicle.feeds if each.function != "tail")
    two = (feed("tail_left"), feed("tail_right"), *others)

    assert only(RULE, unsolved(rig)).severity is Severity.NOTE
    assert not found(RULE, unsolved(replace(rig, vehicle=replace(rig.vehicle, feeds=two))))
    assert not found(RULE, unsolved(simple_rig()))
