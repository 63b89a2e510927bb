"""LOAD02: a module gives 5 A per turn signal, 10 A for stop. Source: an owner's manual."""

from dataclasses import replace

from tests.checks.builders import case_of, found, load, only, read
from tests.rigs import simple_rig

from loomwright.checks.rule import Work
from loomwright.checks.rules.load_heavy import RULE
from loomwright.rig.model import SocketFeed


def on_module(function: str, current_a: float) -> Work:
    rig = simple_rig()
    rig = replace(rig, vehicle=replace(rig.vehicle, socket_feed=SocketFeed.MODULE))
    lamp = load("left rear", function, 12.5, current_a=current_a)
    return read(rig, case_of("left", loads=[lamp]))


def test_limits_are_those_of_the_circuit() -> None:
    assert only(RULE, on_module("left_turn", 6.0)).limit == 5.0
    assert not found(RULE, on_module("stop", 6.0))
