"""CHRG02: a feed live with the engine off empties the vehicle. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, unsolved
from tests.rigs import brake_rig

from loomwright.checks.rules.charge_drain import RULE
from loomwright.rig.model import Live


def test_an_always_live_charge_line_is_found_and_one_with_the_engine_is_not() -> None:
    rig = brake_rig()
    feeds = tuple(
        replace(feed, live=Live.ALWAYS) if feed.function == "battery" else feed
        for feed in rig.vehicle.feeds
    )

    assert found(RULE, unsolved(replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))))
    assert not found(RULE, unsolved(rig))
