"""FUSE05: blade fuses open at 1.35 times their rating. Source: ISO 8820-3, as printed."""

from dataclasses import replace

from tests.checks.builders import case_of, found, fuse, only, read, solved
from tests.rigs import brake_rig, simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.fuse_opens import RULE
from loomwright.rig.model import FuseHolder


def test_a_brake_fuse_that_opens_is_a_danger() -> None:
    for function, severity in (("brake", Severity.DANGER), ("tail", Severity.MUST)):
        opened = fuse(10.0, 0.0, function, opened=True)
        work = read(simple_rig(), case_of("park", fuses=[opened]))

        assert only(RULE, work).severity is severity


def test_a_brake_fuse_of_10_a_opens_behind_four_magnets_of_3_2_ohm() -> None:
    """12 V / 3.2 ohm x 4 = 15 A, over 1.35 x 10 A; a 30 A fuse stays."""
    rig = brake_rig()
    feeds = tuple(
        replace(feed, fuse=FuseHolder("medium", 10.0)) if feed.function == "brake" else feed
        for feed in rig.vehicle.feeds
    )
    small = replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))

    assert only(RULE, solved(small)).severity is Severity.DANGER
    assert not found(RULE, solved(rig))
