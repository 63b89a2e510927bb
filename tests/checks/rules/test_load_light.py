"""LOAD01: a module notices 0.10 A of stop and 0.05 A of turn. Source: an owner's manual."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.load_light import RULE
from loomwright.rig.model import SocketFeed


def on_module(function: str, current_a: float, feed: SocketFeed = SocketFeed.MODULE) -> Work:
    rig = simple_rig()
    rig = replace(rig, vehicle=replace(rig.vehicle, socket_feed=feed))
    lamp = load("left rear", function, 12.5, current_a=current_a)
    return read(rig, case_of("brake_pedal", loads=[lamp]))


def test_a_stop_lamp_of_80_ma_is_too_light_and_a_turn_signal_of_80_ma_is_not() -> None:
    assert only(RULE, on_module("stop", 0.08)).limit == 0.1
    assert not found(RULE, on_module("left_turn", 0.08))
    assert found(RULE, on_module("left_turn", 0.04))


def test_a_shared_wire_detects_nothing() -> None:
    assert not found(RULE, on_module("stop", 0.08, SocketFeed.SHARED))
