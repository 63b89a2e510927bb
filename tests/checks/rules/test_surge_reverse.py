"""BRAK04: surge brakes lock when backing unless reverse releases them. Common practice."""

from dataclasses import replace

from tests.checks.builders import found, unsolved
from tests.rigs import brake_rig, simple_rig

from loomwright.checks.rules.surge_reverse import RULE
from loomwright.rig.model import Braking


def test_a_four_way_brings_no_reverse_and_a_seven_way_does() -> None:
    four, seven = simple_rig(), brake_rig()
    four = replace(four, trailer=replace(four.trailer, braking=Braking.SURGE))
    seven = replace(seven, trailer=replace(seven.trailer, braking=Braking.SURGE))

    assert found(RULE, unsolved(four))
    assert not found(RULE, unsolved(seven))


def test_a_trailer_without_brakes_needs_none() -> None:
    assert not found(RULE, unsolved(simple_rig()))
