"""BRAK01: 10.5 V at the magnets. From memory; a case is known that failed at 10.2 V.

A 12-inch magnet has 3.2 ohm: 10.4 V drive 3.25 A through it (magnet test chart, V / 3.2 ohm).
"""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read, solved
from tests.rigs import awg, brake_rig

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.brake_voltage import RULE


def magnets(*volts: float) -> Work:
    names = [brake.name for brake in brake_rig().trailer.brakes]
    loads = [
        load(name, "brake", v, kind="brake", current_a=v / 3.2, light_share=None)
        for name, v in zip(names, volts, strict=False)
    ]
    return read(brake_rig(), case_of("brake_lever", loads=loads))


def test_one_finding_tells_the_weakest_of_all() -> None:
    finding = only(RULE, magnets(10.4, 10.2, 9.9, 9.8))

    assert finding.value == 9.8
    assert finding.severity is Severity.MUST
    assert "axle 2 right" in finding.where


def test_enough_voltage_passes_and_far_too_little_is_a_danger() -> None:
    assert not found(RULE, magnets(10.6, 10.6))
    assert only(RULE, magnets(10.6, 8.0)).severity is Severity.DANGER


def test_a_thin_brake_feed_fails_where_the_usual_one_passes() -> None:
    rig = brake_rig()
    feeds = tuple(
        replace(feed, wire=awg("18", 7.0)) if feed.function == "brake" else feed
        for feed in rig.vehicle.feeds
    )
    thin = replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))

    assert found(RULE, solved(thin))
    assert not found(RULE, solved(rig))
