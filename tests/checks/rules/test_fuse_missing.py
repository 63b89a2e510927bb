"""FUSE04: protection within 7 in of the source. Source: ABYC E-11, from memory."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.fuse_missing import RULE
from loomwright.rig.model import Rig, SocketFeed


def without_fuse(rig: Rig, *functions: str) -> Rig:
    feeds = tuple(
        replace(feed, fuse=None) if feed.function in functions else feed
        for feed in rig.vehicle.feeds
    )
    return replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))


def test_an_unfused_supply_is_a_danger_and_says_7_inches() -> None:
    finding = only(RULE, unsolved(without_fuse(brake_rig(), "battery")))

    assert finding.severity is Severity.DANGER
    assert "7 in (178 mm)" in finding.fix


def test_lamp_feeds_are_told_together() -> None:
    bare = without_fuse(brake_rig(), "tail", "left_stop_turn")

    assert only(RULE, unsolved(bare)).severity is Severity.MUST


def test_lamp_outputs_of_a_module_protect_themselves() -> None:
    bare = without_fuse(brake_rig(), "tail")
    module = replace(bare, vehicle=replace(bare.vehicle, socket_feed=SocketFeed.MODULE))

    assert not found(RULE, unsolved(module))


def test_the_converters_own_feed_counts() -> None:
    rig = van_rig()
    assert rig.converter is not None
    assert rig.converter.feed is not None
    bare = replace(rig.converter, feed=replace(rig.converter.feed, fuse=None))

    assert found(RULE, unsolved(replace(rig, converter=bare)))
    assert not found(RULE, unsolved(rig))
    assert not found(RULE, unsolved(brake_rig()))
