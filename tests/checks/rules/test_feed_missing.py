"""FEED01: what the trailer needs and nothing feeds."""

from dataclasses import replace

import pytest
from tests.checks.builders import found, only, unsolved
from tests.rigs import brake_rig, simple_rig, van_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.feed_missing import RULE
from loomwright.rig.model import Rig


def without_feed(function: str) -> Rig:
    rig = brake_rig()
    feeds = tuple(feed for feed in rig.vehicle.feeds if feed.function != function)
    return replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))


@pytest.mark.parametrize(
    ("function", "severity"),
    [("brake", Severity.DANGER), ("tail", Severity.MUST), ("battery", Severity.SHOULD)],
)
def test_a_vehicle_without_the_feed_is_told(function: str, severity: Severity) -> None:
    finding = only(RULE, unsolved(without_feed(function)))

    assert finding.severity is severity
    assert finding.station == "feed"


def test_a_cord_without_the_wire_is_told() -> None:
    rig = brake_rig()
    cord = tuple(wire for wire in rig.trailer.cord if wire.function != "battery")

    finding = only(RULE, unsolved(replace(rig, trailer=replace(rig.trailer, cord=cord))))

    assert finding.where == "trailer cord"


def test_whole_rigs_pass_a_converter_included() -> None:
    for rig in (simple_rig(), brake_rig(), van_rig()):
        assert not found(RULE, unsolved(rig))
