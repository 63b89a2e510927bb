"""CONV03: pulsed or watched lamps want a powered converter. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, only, unsolved
from tests.rigs import lamp, simple_rig

from loomwright.checks.rule import Severity
from loomwright.checks.rules.converter_pulsed import RULE
from loomwright.rig.model import LampDrive, Led, Light, Rig, SocketFeed


def driven(drive: LampDrive, feed: SocketFeed = SocketFeed.SHARED, *, leds: bool = False) -> Rig:
    rig = simple_rig()
    vehicle = replace(rig.vehicle, lamp_drive=drive, socket_feed=feed)
    if not leds:
        return replace(rig, vehicle=vehicle)
    bright = lamp("rear", "left", 3.0, lights=(Light("tail", Led("string-3", 0.04, 12.8)),))
    return replace(rig, vehicle=vehicle, trailer=replace(rig.trailer, lamps=(bright,)))


def test_leds_on_watched_lamps_must_be_mended_and_bulbs_should_be() -> None:
    leds = only(RULE, unsolved(driven(LampDrive.MONITORED, leds=True)))
    bulbs = only(RULE, unsolved(driven(LampDrive.PULSED)))

    assert leds.severity is Severity.MUST
    assert bulbs.severity is Severity.SHOULD


def test_steady_lamps_and_a_trailer_module_pass() -> None:
    assert not found(RULE, unsolved(driven(LampDrive.STEADY, leds=True)))
    assert not found(RULE, unsolved(driven(LampDrive.PULSED, SocketFeed.MODULE, leds=True)))
