"""CHRG01: a charge under a twentieth of the capacity is of no use. Common practice."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read, solved
from tests.rigs import awg, brake_rig, supply

from loomwright.checks.rule import Severity, Work
from loomwright.checks.rules.charge_current import RULE


def charging(normal_a: float, lowest_a: float = 3.0, *, managed: bool = False) -> Work:
    rig = brake_rig()
    rig = replace(rig, vehicle=replace(rig.vehicle, supply=supply(managed=managed)))
    readings = {
        key: load("house battery", "battery", 12.8, kind="battery", current_a=current_a)
        for key, current_a in (("nominal", normal_a), ("dim", lowest_a))
    }
    return read(rig, *(case_of("charge", key, loads=[each]) for key, each in readings.items()))


def test_100_ah_want_5_a() -> None:
    assert found(RULE, charging(4.9))
    assert not found(RULE, charging(5.1))


def test_a_managed_alternator_that_leaves_nothing_should_be_mended() -> None:
    assert only(RULE, charging(12.0, 0.1, managed=True)).severity is Severity.SHOULD
    assert only(RULE, charging(12.0, 0.1)).severity is Severity.NOTE


def test_a_long_thin_line_fails_where_the_usual_one_passes() -> None:
    """10 m of 18 AWG have 0.21 ohm (ASTM B258), and the battery's 1.2 V under the vehicle's.

    Under 6 A through that alone, before the ground and the contacts take theirs.
    """
    rig = brake_rig()
    feeds = tuple(
        replace(feed, wire=awg("18", 10.0)) if feed.function == "battery" else feed
        for feed in rig.vehicle.feeds
    )
    thin = replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))

    assert found(RULE, solved(thin))
    assert not [f for f in found(RULE, solved(rig)) if f.severity is not Severity.NOTE]
